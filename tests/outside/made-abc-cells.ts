import type { Random } from "../../core/exercise/seeded-random.ts";
import type { MadeMetre } from "./made-abc.ts";
import { chance, oneOf, wholeFrom } from "./made-abc-chance.ts";

/** What is being written: the unit length in semibreves, and the note a tie leads to. */
export interface Writing {
  readonly random: Random;
  metre: MadeMetre;
  readonly unit: number;
  tiedTo: string | null;
  /** Whether (5, (7 and (9 may stand bare: readers differ in 3/4 and after a change of metre. */
  fives: boolean;
}

/** A few notes that fill so many quavers. */
export interface Cell {
  readonly quavers: number;
  readonly write: (writing: Writing) => string;
}

const LETTERS = [..."CDEFGABcdefgab"];

/** Everything both readers should agree on, by length. */
export function cells({ metre, fives }: Writing): readonly Cell[] {
  const n = metre.compound ? 3 : 2;
  const odd: readonly Cell[] = !fives ? [] : [5, 7, 9].map((p) => ({ quavers: n, write: group(p, "") }));
  return [
    ...[0.5, 1, 1, 1, 2, 3].map((length) => ({ quavers: length, write: note(length) })),
    ...[1, 2].map((length) => ({ quavers: length, write: chord(length) })),
    ...[1, 2].map((length) => ({ quavers: length, write: rest(length) })),
    { quavers: 2, write: broken },
    { quavers: 2, write: group(3, "") },
    { quavers: 2, write: group(3, ":2:3") },
    { quavers: 2, write: group(6, "") },
    { quavers: 3, write: group(2, "") },
    { quavers: 3, write: group(4, "") },
    { quavers: 3, write: group(8, "") },
    { quavers: 4, write: group(5, ":4") },
    { quavers: 2, write: unevenGroup },
    { quavers: 2, write: tied },
    ...odd,
  ];
}

/** Length in quavers as ABC writes it after a note. */
function lengthText({ unit, random }: Writing, quavers: number): string {
  const units = quavers / 8 / unit;
  if (Number.isInteger(units)) return units === 1 ? (chance(random, 0.1) ? "1" : "") : String(units);
  const halves = Math.log2(1 / units);
  if (Number.isInteger(halves)) return oneOf(random, ["/".repeat(halves), `/${1 / units}`]);
  return Number.isInteger(units * 2) ? `${units * 2}/2` : `${units * 4}/4`;
}

function pitch({ random }: Writing): string {
  const accidental = chance(random, 0.15) ? oneOf(random, ["^", "_", "=", "^^", "__"]) : "";
  const letter = oneOf(random, LETTERS);
  const octave = chance(random, 0.1) ? oneOf(random, [",", "'", ",'", ",,"]) : "";
  return `${accidental}${letter}${octave}`;
}

/** What may stand before a note without changing it. */
function before({ random }: Writing): string {
  if (!chance(random, 0.25)) return "";
  return oneOf(random, ["H", "u", "v", "!accent!", "!fermata!", "{g}", "{/ga}", "{gege}", '"Am"', '"^over"']);
}

/** The next pitch: after a tie the tied one. */
function nextPitch(writing: Writing): string {
  const tied = writing.tiedTo;
  writing.tiedTo = null;
  return tied ?? pitch(writing);
}

const note = (quavers: number) => (writing: Writing) => {
  const name = nextPitch(writing);
  const ties = chance(writing.random, 0.08);
  // The accidental stays away: a tie carries it.
  if (ties) writing.tiedTo = name.replace(/[_^=]/g, "");
  return `${before(writing)}${name}${lengthText(writing, quavers)}${ties ? "-" : ""}`;
};

const chord = (quavers: number) => (writing: Writing) => {
  if (writing.tiedTo !== null) return note(quavers)(writing);
  const root = wholeFrom(writing.random, 0, 8);
  const names = [0, 2, 4]
    .slice(0, wholeFrom(writing.random, 2, 3))
    .map((step) => LETTERS[root + step] ?? "c");
  return `[${names.join("")}]${lengthText(writing, quavers)}`;
};

const rest = (quavers: number) => (writing: Writing) => {
  if (writing.tiedTo !== null) return note(quavers)(writing);
  return `${oneOf(writing.random, ["z", "x"])}${lengthText(writing, quavers)}`;
};

function broken(writing: Writing): string {
  const length = lengthText(writing, 1);
  const sign = oneOf(writing.random, [">", "<", ">>", "<<", ">>>", "<<<"]);
  const between = oneOf(writing.random, [sign, sign, `${sign}{g}`, `{ga}${sign}`, ` ${sign} `]);
  return `${nextPitch(writing)}${length}${between}${pitch(writing)}${length}`;
}

const group = (p: number, rest: string) => (writing: Writing) => {
  const length = lengthText(writing, 1);
  const notes = Array.from({ length: p }, () => `${nextPitch(writing)}${length}`);
  return `(${p}${rest}${oneOf(writing.random, ["", " "])}${notes.join("")}`;
};

/** Three in the time of two, of notes that are not alike: 2 + 1 quavers. */
function unevenGroup(writing: Writing): string {
  const [long, short] = [lengthText(writing, 2), lengthText(writing, 1)];
  return `(3:2:2${nextPitch(writing)}${long}${pitch(writing)}${short}`;
}

function tied(writing: Writing): string {
  const length = lengthText(writing, 1);
  const name = nextPitch(writing);
  return `${name}${length}-${name.replace(/[_^=]/g, "")}${length}`;
}
