import { deflateRawSync } from "node:zlib";
import type { Random } from "../../../core/exercise/seeded-random.ts";
import { CONTAINER } from "../../support/musicxml.ts";
import { below, oneOf } from "./chance.ts";
import { bytesOf } from "./fuzzed-reader.ts";

/** Names a compressed file might bring: what it should have, ways out of a folder, devices, names twice and none. */
const NAMES = [
  "META-INF/container.xml",
  "score.musicxml",
  "score.xml",
  "../../../../outside.musicxml",
  "/etc/passwd",
  "C:\\out.xml",
  "..\\..\\out.xml",
  "score.musicxml/../../x.xml",
  "con.xml",
  "",
  "a/".repeat(300),
  "\u0000.xml",
  "nested.mxl",
  "__proto__",
  "META-INF/../score.musicxml",
];

interface Entry {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly packed: Uint8Array;
  readonly method: number;
  readonly flags: number;
  readonly saidPacked: number;
  readonly saidUnpacked: number;
  readonly lies: number;
}

/**
 * A ZIP of a score and what surrounds it in which names, methods, sizes, places and counts may lie.
 *
 * Source: PKWARE APPNOTE 6.3, 4.3.7, 4.3.12 and 4.3.16.
 */
export function forgedZip(random: Random, scores: readonly Uint8Array[]): Uint8Array {
  const score = oneOf(random, scores);
  const usual: readonly (readonly [string, Uint8Array])[] = [
    ["META-INF/container.xml", bytesOf(containerOf(random))],
    ["score.musicxml", score],
  ];
  const others = Array.from(
    { length: below(random, 3) },
    () => [oneOf(random, NAMES), contentOf(random, score)] as const,
  );
  const entries = [...usual, ...others]
    .filter(() => random() < 0.95)
    .map(([name, bytes]) => entryOf(random, name, bytes));
  return zipOf(random, random() < 0.2 ? entries.toReversed() : entries);
}

const containerOf = (random: Random): string =>
  random() < 0.7
    ? CONTAINER
    : CONTAINER.replace("score.musicxml", oneOf(random, NAMES).replace(/[^ -~]|["<&]/g, "_"));

/** A score, a zip within the zip, or what packs to almost nothing and unpacks to more than is read. */
function contentOf(random: Random, score: Uint8Array): Uint8Array {
  const turn = random();
  if (turn < 0.6) return score;
  return turn < 0.9 ? zipOf(random, [entryOf(random, "score.musicxml", score)]) : new Uint8Array(5_000_000);
}

function entryOf(random: Random, name: string, bytes: Uint8Array): Entry {
  const method = random() < 0.9 ? 8 : oneOf(random, [0, 1, 9, 12, 99, 65_535]);
  const packed = method === 0 ? bytes : deflateRawSync(bytes);
  const lie = (truth: number) =>
    random() < 0.94 ? truth : oneOf(random, [0, 1, truth - 1, truth + 1, 0xffffffff, 0x7fffffff]);
  return {
    name: random() < 0.95 ? name : oneOf(random, NAMES),
    bytes,
    packed: random() < 0.97 ? packed : packed.subarray(0, below(random, packed.length)),
    method,
    flags: random() < 0.97 ? 0 : oneOf(random, [1, 8, 0x41, 0xffff]),
    saidPacked: lie(packed.length),
    saidUnpacked: lie(bytes.length),
    lies: random() < 0.96 ? 0 : below(random, 2 ** 31),
  };
}

type Field = readonly [bytes: 2 | 4, value: number];

/** What a file's header and its line in the list of contents both say of it. */
const saidOf = (entry: Entry, nameBytes: number): readonly Field[] => [
  [2, entry.flags],
  [2, entry.method],
  [4, 0],
  [4, 0],
  [4, entry.saidPacked],
  [4, entry.saidUnpacked],
  [2, nameBytes],
  [2, 0],
];

function zipOf(random: Random, entries: readonly Entry[]): Uint8Array {
  const parts: Uint8Array[] = [];
  const list: Uint8Array[] = [];
  let at = 0;
  for (const entry of entries) {
    const name = bytesOf(entry.name);
    const said = saidOf(entry, name.length);
    const header = fields([4, 0x04034b50], [2, 20], ...said);
    list.push(
      fields(
        [4, 0x02014b50],
        [2, 20],
        [2, 20],
        ...said,
        [2, 0],
        [2, 0],
        [2, 0],
        [4, 0],
        [4, (at + entry.lies) % 2 ** 32],
      ),
      name,
    );
    parts.push(header, name, entry.packed);
    at += header.length + name.length + entry.packed.length;
  }
  const length = list.reduce((sum, part) => sum + part.length, 0);
  const count = random() < 0.95 ? entries.length : oneOf(random, [0, entries.length + 1, 1001, 65_535]);
  const start = random() < 0.97 ? at : below(random, 2 ** 31);
  return Buffer.concat([
    ...parts,
    ...list,
    fields([4, 0x06054b50], [2, 0], [2, 0], [2, count], [2, count], [4, length], [4, start], [2, 0]),
  ]);
}

/** Numbers in so many bytes each, least first. */
function fields(...all: readonly Field[]): Uint8Array {
  return Uint8Array.from(
    all.flatMap(([size, value]) =>
      Array.from({ length: size }, (_, n) => Math.floor(value / 256 ** n) % 256),
    ),
  );
}
