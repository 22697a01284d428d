import type { Random } from "../../core/exercise/seeded-random.ts";

/** Bytes that mean something in MIDI, ZIP or XML files, at the edges of what their fields hold. */
const PIECES: readonly (readonly number[])[] = [
  [0],
  [0x7f],
  [0x80],
  [0xff],
  [0xff, 0xff, 0xff, 0xff],
  [0, 0, 0, 0],
  [0x7f, 0xff, 0xff, 0xff],
  [0xff, 0x2f, 0],
  [0xff, 0x51, 3, 0, 0, 0],
  [0xff, 0x58, 4, 0, 0, 0, 0],
  [0xff, 0x58, 4, 1, 6, 1, 1],
  [0xf0, 0xff],
  [0x50, 0x4b, 1, 2],
  [0x50, 0x4b, 5, 6],
  ...[
    "<",
    ">",
    "&",
    "</",
    "/>",
    "]]>",
    "<!DOCTYPE x [",
    "<![CDATA[",
    "&#0;",
    "&lt;",
    "<!--",
    "<a>",
    "<note>",
    "</measure>",
    "<chord/>",
    "<backup><duration>999999999</duration></backup>",
    "<forward><duration>999999999</duration></forward>",
    '<barline><repeat direction="backward" times="99"/></barline>',
    '<ending number="1,2,99" type="start"/>',
    "<divisions>1000000</divisions>",
    "<divisions>0.001</divisions>",
    "999999999999",
    "-1",
    "1e9",
    "NaN",
  ].map((words) => [...words].map((letter) => letter.charCodeAt(0))),
];

/** Numbers at and beyond the edges of what elements hold. */
const NUMBERS = [
  "0",
  "-1",
  "1",
  "2",
  "3",
  "7",
  "8",
  "16",
  "63",
  "99",
  "1000",
  "99999",
  "999999999",
  "0.001",
  "1e9",
];

/** How long one piece may become when it is repeated: long enough for what grows with its square to show. */
const LONGEST_RUN = 20_000;

/**
 * A file with 1 to 8 changes: bits turned, bytes put in or over, stretches cut out, doubled or run on for long, the end broken
 * off, the end of another file put to it.
 *
 * @param files what to start from; at least one, none empty
 */
export function mutatedBytes(random: Random, files: readonly Uint8Array[]): Uint8Array {
  let bytes = oneOf(random, files);
  // Mostly few: a file with many faults is refused for the first of them.
  const changes = 1 + Math.floor(8 * random() ** 3);
  for (let change = 0; change < changes; change++) bytes = oneOf(random, CHANGES)(bytes, random, files);
  return bytes;
}

type Change = (bytes: Uint8Array, random: Random, files: readonly Uint8Array[]) => Uint8Array;

const CHANGES: readonly Change[] = [
  (bytes, random) =>
    over(bytes, random, [(bytes[below(random, bytes.length)] ?? 0) ^ (1 << below(random, 8))]),
  (bytes, random) => over(bytes, random, [below(random, 256)]),
  (bytes, random) => over(bytes, random, oneOf(random, PIECES)),
  (bytes, random) => put(bytes, random, oneOf(random, PIECES)),
  (bytes, random) => {
    const [from, to] = span(bytes, random);
    return joined(bytes.subarray(0, from), bytes.subarray(to));
  },
  (bytes, random) => {
    const [from, to] = span(bytes, random);
    return joined(bytes.subarray(0, to), bytes.subarray(from));
  },
  // In XML most lines of ours are whole elements and most digits whole numbers: what comes of it is still well-formed.
  (bytes, random) => {
    const [from, to] = line(bytes, random);
    return random() < 0.5
      ? joined(bytes.subarray(0, from), bytes.subarray(to))
      : joined(bytes.subarray(0, to), bytes.subarray(from));
  },
  (bytes, random) => {
    const [from, to] = digits(bytes, random);
    const number = oneOf(random, NUMBERS);
    return joined(bytes.subarray(0, from), charactersOf(number), bytes.subarray(to));
  },
  (bytes, random) => {
    // Few run long: most files go wrong in one place.
    const times = random() < 0.2 ? below(random, LONGEST_RUN) : below(random, 30);
    const piece = oneOf(random, PIECES);
    return put(
      bytes,
      random,
      Array.from({ length: times * piece.length }, (_, at) => piece[at % piece.length] ?? 0),
    );
  },
  (bytes, random) => bytes.subarray(0, below(random, bytes.length)),
  (bytes, random, files) => {
    const other = oneOf(random, files);
    return joined(
      bytes.subarray(0, below(random, bytes.length)),
      other.subarray(below(random, other.length)),
    );
  },
];

const NEW_LINE = 10;
const isDigit = (byte: number | undefined) => byte !== undefined && byte >= 48 && byte <= 57;
const charactersOf = (words: string) => Uint8Array.from(words, (letter) => letter.charCodeAt(0));

/** Where a line begins and the next does. */
function line(bytes: Uint8Array, random: Random): readonly [number, number] {
  const at = below(random, bytes.length);
  const end = bytes.indexOf(NEW_LINE, at);
  return [bytes.lastIndexOf(NEW_LINE, at - 1) + 1, end < 0 ? bytes.length : end + 1];
}

/** The first digits after some place; nothing there if none follow. */
function digits(bytes: Uint8Array, random: Random): readonly [number, number] {
  let from = below(random, bytes.length);
  while (from < bytes.length && !isDigit(bytes[from])) from++;
  let to = from;
  while (isDigit(bytes[to])) to++;
  return [from, to];
}

/** Two places, mostly near each other. */
function span(bytes: Uint8Array, random: Random): readonly [number, number] {
  const from = below(random, bytes.length);
  const length = random() < 0.8 ? below(random, 12) : below(random, bytes.length);
  return [from, Math.min(bytes.length, from + length)];
}

function over(bytes: Uint8Array, random: Random, piece: readonly number[]): Uint8Array {
  const copy = bytes.slice();
  const at = below(random, bytes.length);
  copy.set(piece.slice(0, bytes.length - at), at);
  return copy;
}

function put(bytes: Uint8Array, random: Random, piece: readonly number[]): Uint8Array {
  const at = below(random, bytes.length + 1);
  return joined(bytes.subarray(0, at), Uint8Array.from(piece), bytes.subarray(at));
}

function joined(...pieces: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

const below = (random: Random, count: number) => Math.floor(random() * count);

function oneOf<T>(random: Random, choices: readonly T[]): T {
  const chosen = choices[below(random, choices.length)];
  if (chosen === undefined) throw new RangeError("nothing to choose from");
  return chosen;
}
