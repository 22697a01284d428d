import fc from "fast-check";
import type { Random } from "../../../core/exercise/seeded-random.ts";
import { mutatedBytes } from "../../support/mutate-bytes.ts";
import { below, drawn, EDGE_NUMBERS, HOSTILE_WORDS, oneOf } from "./chance.ts";
import { bytesOf, textOf } from "./fuzzed-reader.ts";
import { changedTokens } from "./token-changes.ts";

/** JSON of one of the values with 1 to 4 fields changed, or its bytes; sometimes any JSON at all. */
export function changedJson(random: Random, values: readonly unknown[]): Uint8Array {
  const turn = random();
  if (turn < 0.05) return bytesOf(drawn(random, fc.json()));
  const value = oneOf(random, values);
  if (turn > 0.95) return bytesOf(JSON.stringify(value));
  const text = JSON.stringify(changedValue(random, value));
  if (turn > 0.85) return changedTokens(random, bytesOf(JSON.stringify(value)));
  if (turn < 0.2) return mutatedBytes(random, [bytesOf(text)]);
  if (turn < 0.23) return bytesOf(oneOf(random, ["[", '{"a":', '[{"":']).repeat(below(random, 200_000)));
  if (turn < 0.3) return bytesOf(withDoubledField(random, text));
  return bytesOf(text);
}

/** The value with 1 to 4 of its parts, at any depth, taken out, doubled or replaced. */
export function changedValue(random: Random, value: unknown): unknown {
  let changed = value;
  const changes = 1 + below(random, 4) * below(random, 2);
  for (let change = 0; change < changes; change++) changed = withChange(random, changed);
  return changed;
}

function withChange(random: Random, value: unknown): unknown {
  if (typeof value !== "object" || value === null || random() < 0.12) return strangeFor(random, value);
  if (Array.isArray(value)) return changedList(random, value);
  const fields = Object.entries(value);
  if (fields.length === 0 || random() < 0.08)
    return Object.fromEntries([...fields, [oneOf(random, HOSTILE_WORDS), strange(random)]]);
  const at = below(random, fields.length);
  if (random() < 0.1) return Object.fromEntries(fields.filter((_, place) => place !== at));
  return Object.fromEntries(
    fields.map(([name, part], place) => [name, place === at ? withChange(random, part) : part]),
  );
}

function changedList(random: Random, list: readonly unknown[]): unknown {
  const at = below(random, list.length);
  const turn = random();
  if (list.length === 0 || turn < 0.1) return [...list, strange(random)];
  if (turn < 0.2) return list.toSpliced(at, 1);
  if (turn < 0.3) return [...list, ...list.slice(at)];
  if (turn < 0.33) return Array.from({ length: below(random, 3000) }, () => list[at]);
  if (turn < 0.4) return list.toReversed();
  return list.with(at, withChange(random, list[at]));
}

/** Something of the same kind at its edges, or of another kind. */
function strangeFor(random: Random, value: unknown): unknown {
  if (random() < 0.6) {
    if (typeof value === "number") return oneOf(random, [...EDGE_NUMBERS, value + 1, value - 1, -value]);
    if (typeof value === "string") return oneOf(random, [...HOSTILE_WORDS, `${value}x`, value.slice(1)]);
    if (typeof value === "boolean") return !value;
  }
  return strange(random);
}

const strange = (random: Random): unknown => {
  const turn = random();
  if (turn < 0.25) return oneOf(random, EDGE_NUMBERS);
  if (turn < 0.5) return oneOf(random, HOSTILE_WORDS);
  if (turn < 0.6) return nested(random, below(random, 100));
  if (turn < 0.8)
    return oneOf<unknown>(random, [null, true, false, [], {}, [[]], { kind: "reeds" }, "-1", "1e3"]);
  return drawn(random, fc.jsonValue());
};

function nested(random: Random, depth: number): unknown {
  let value: unknown = 1;
  for (let level = 0; level < depth; level++) value = random() < 0.5 ? [value] : { a: value };
  return value;
}

/** A name twice in one object, which JSON allows: the later counts. */
function withDoubledField(random: Random, text: string): string {
  const at = below(random, text.length);
  const brace = text.indexOf("{", at);
  const name = JSON.stringify(oneOf(random, ["schema", "version", "kind", "holes", "notes", "__proto__"]));
  return brace < 0 ? text : `${text.slice(0, brace + 1)}${name}:1,${text.slice(brace + 1)}`;
}

export const jsonOf = (bytes: Uint8Array): unknown => JSON.parse(textOf(bytes));
