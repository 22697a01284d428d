import type { Random } from "../../../core/exercise/seeded-random.ts";
import { below, EDGE_NUMBERS, HOSTILE_WORDS, oneOf } from "./chance.ts";
import { bytesOf, textOf } from "./fuzzed-reader.ts";

/** The text of a file with 1 to 3 of its words or numbers replaced: by another of them, or by what means something elsewhere. */
export function changedTokens(random: Random, bytes: Uint8Array): Uint8Array {
  let text = textOf(bytes);
  for (let change = 1 + below(random, 3); change > 0; change--) text = withOtherToken(random, text);
  return bytesOf(text);
}

function withOtherToken(random: Random, text: string): string {
  const tokens = [...text.matchAll(/[A-Za-z_#-]+|\d+(\.\d+)?/g)];
  if (tokens.length === 0) return text;
  const token = oneOf(random, tokens);
  const turn = random();
  const other =
    turn < 0.4
      ? oneOf(random, HOSTILE_WORDS)
      : turn < 0.7
        ? String(oneOf(random, EDGE_NUMBERS))
        : oneOf(random, tokens)[0];
  return text.slice(0, token.index) + other + text.slice(token.index + token[0].length);
}
