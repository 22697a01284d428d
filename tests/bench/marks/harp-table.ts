import { LAYOUT_TABLES } from "../../sources/layout-tables.ts";

/**
 * What a harp sounds, read from the published tables alone: the maker of a take must not learn its notes from the code
 * that will judge it.
 */

export type Breath = "blow" | "draw";
export const otherBreath = (breath: Breath): Breath => (breath === "blow" ? "draw" : "blow");

/** Semitones above the key note, hole 1 first. */
export type HarpTable = Readonly<Record<Breath, readonly number[]>>;

const STEPS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const OCTAVE_OF_KEY = 4;

/** @throws RangeError for a layout the tables do not have */
export function harpTable(layoutId: string): HarpTable {
  const row = LAYOUT_TABLES.find(({ id }) => id === layoutId);
  if (row === undefined) throw new RangeError(`no published table of layout "${layoutId}"`);
  const blow = rising(row.blow, -12);
  return { blow, draw: rising(row.draw, blow[0] ?? 0) };
}

/** Where octaves are not written every note is the next one up; the first is the key note or lies at most an octave below. */
function rising(names: string, above: number): readonly number[] {
  const notes: number[] = [];
  for (const name of names.split(" ")) {
    const [, letter = "", sign = "", octave = ""] = /^([A-G])([#b]?)(\d?)$/.exec(name) ?? [];
    const step = (STEPS[letter] ?? Number.NaN) + (sign === "#" ? 1 : sign === "b" ? -1 : 0);
    let note = step + (octave === "" ? -12 : 12 * (Number(octave) - OCTAVE_OF_KEY));
    if (octave === "") while (note <= (notes.at(-1) ?? above)) note += 12;
    notes.push(note);
  }
  return notes;
}

/** A plain reed, semitones above the key note; null where the harp has none. */
export function reedOf(table: HarpTable, hole: number, breath: Breath): number | null {
  return table[breath][hole - 1] ?? null;
}

/**
 * How far a breath bends in a hole, whole semitones.
 *
 * [F 8] the higher reed bends down to one semitone above the lower one.
 */
export function deepestBend(table: HarpTable, hole: number, breath: Breath): number {
  const own = reedOf(table, hole, breath);
  const other = reedOf(table, hole, otherBreath(breath));
  return own === null || other === null ? 0 : Math.max(0, own - other - 1);
}
