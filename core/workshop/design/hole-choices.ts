import { type Breath, HIGHEST_REED, type Hole, type Layout, LOWEST_REED } from "../../instrument/layout.ts";
import { pitchClass } from "../../pitch/note-names.ts";
import { bendsTo, chordNotes, isInOrder, type Limits, noteOfBend, orderOf, rangeOf } from "./limits.ts";

/** One way to tune the two reeds of a hole; null where there is no reed. Semitones above the key note. */
export interface HoleChoice {
  readonly blow: number | null;
  readonly draw: number | null;
  /** Reeds that differ from the start: 0, 1 or 2. */
  readonly changed: number;
  /** Semitones moved, both reeds together. */
  readonly moved: number;
}

export const ANY_NOTE = 0xfff;

export interface ChoiceWish {
  readonly start: Layout;
  readonly limits: Limits;
  /** Notes that must be playable, in semitones above the key note. */
  readonly notes: ReadonlySet<number>;
  /**
   * Note names worth a move besides those notes, as bits of pitch classes above the key note: `ANY_NOTE` for all. A reed without
   * order, bend or chord to obey moves to no other, as that would be a change for nothing.
   */
  readonly alsoWorth: number;
}

/** For each hole, hole 1 first, every way to tune it within the limits that are its own; unchanged first, then fewest changes. */
export function holeChoices(wish: ChoiceWish): readonly (readonly HoleChoice[])[] {
  return wish.start.holes.map((hole, index) => choicesOfHole(wish, hole, index + 1));
}

function choicesOfHole(wish: ChoiceWish, hole: Hole, number: number): readonly HoleChoice[] {
  const { start, limits } = wish;
  const order = orderOf(limits, number);
  const bends = limits.bends
    .filter((bend) => bend.hole === number)
    .map((bend) => ({ breath: bend.breath, note: noteOfBend(start, bend) }));
  const isTied = order !== "free" || bends.length > 0;
  const found: HoleChoice[] = [];
  for (const blow of reedChoices(wish, hole, number, "blow", isTied)) {
    for (const draw of reedChoices(wish, hole, number, "draw", isTied)) {
      const tuned = { ...hole, blow, draw } as Hole;
      if (!isInOrder(tuned, order)) continue;
      if (!bends.every(({ breath, note }) => note !== null && bendsTo(tuned, breath, note))) continue;
      found.push({ blow, draw, ...differences(hole, blow, draw) });
    }
  }
  return found.sort((one, other) => one.changed - other.changed || one.moved - other.moved);
}

function differences(hole: Hole, blow: number | null, draw: number | null) {
  const by = [Math.abs((blow ?? 0) - (hole.blow ?? 0)), Math.abs((draw ?? 0) - (hole.draw ?? 0))];
  return { changed: by.filter((one) => one > 0).length, moved: by.reduce((sum, one) => sum + one, 0) };
}

function reedChoices(
  wish: ChoiceWish,
  hole: Hole,
  number: number,
  breath: Breath,
  isTied: boolean,
): readonly (number | null)[] {
  const reed = hole[breath];
  if (reed === null) return [null];
  const { up, down } = rangeOf(wish.limits, number, breath);
  const chords = wish.limits.chords
    .filter((chord) => chord.breath === breath && chord.holes.includes(number))
    .map((chord) => chordNotes(wish.start, chord));
  const worth = (note: number) =>
    note === reed ||
    isTied ||
    chords.length > 0 ||
    (wish.alsoWorth & (1 << pitchClass(note))) !== 0 ||
    wish.notes.has(note);
  const found: number[] = [];
  for (let note = Math.max(LOWEST_REED, reed - down); note <= Math.min(HIGHEST_REED, reed + up); note++)
    if (worth(note) && chords.every((notes) => notes.includes(pitchClass(note)))) found.push(note);
  return found;
}
