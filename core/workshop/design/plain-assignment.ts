import munkres from "munkres";
import { changeReed } from "../../instrument/change-layout.ts";
import { type Layout, reedsOf } from "../../instrument/layout.ts";
import { semitones } from "../../units.ts";
import { type Limits, orderOf, rangeOf } from "./limits.ts";

/** A layout that covers notes with the fewest changes and of these the least way. */
export interface AssignedLayout {
  readonly layout: Layout;
  readonly changed: number;
  readonly moved: number;
}

/** More than all semitones of all reeds together, so that fewest changes come first; a move beyond the limits never pays. */
const A_CHANGE = 1000;
const NEVER = 1_000_000;

/** Whether nothing but limits of each reed is asked for: then covering notes is an assignment of notes to reeds. */
export const isPlainAssignment = (start: Layout, limits: Limits): boolean =>
  limits.chords.length === 0 &&
  limits.bends.length === 0 &&
  start.holes.every((_, index) => orderOf(limits, index + 1) === "free");

/**
 * The fewest changed reeds and of these the least moved, by the Hungarian method (Kuhn, Naval Research Logistics Quarterly 2,
 * 1955; package `munkres`), however many ways there are.
 *
 * @param notes  semitones above the key note, each once, no more than there are reeds
 * @param limits see `isPlainAssignment`
 * @returns null where no layout within the limits covers all
 */
export function assignedLayout(
  start: Layout,
  limits: Limits,
  notes: readonly number[],
): AssignedLayout | null {
  const reeds = reedsOf(start);
  const costs = notes.map((note) =>
    reeds.map(({ hole, breath, sounds }) => {
      const by = note - sounds;
      const { up, down } = rangeOf(limits, hole, breath);
      if (by > up || -by > down) return NEVER;
      return by === 0 ? 0 : A_CHANGE + Math.abs(by);
    }),
  );
  const pairs = munkres(costs);
  const total = pairs.reduce((sum, [note, reed]) => sum + (costs[note]?.[reed] ?? NEVER), 0);
  const changed = Math.floor(total / A_CHANGE);
  if (total >= NEVER || changed > (limits.mostChanged ?? changed)) return null;
  const layout = pairs.reduce((tuned, [note, place]) => {
    const reed = reeds[place];
    return reed === undefined
      ? tuned
      : changeReed(tuned, reed.hole, reed.breath, semitones(notes[note] ?? 0));
  }, start);
  return { layout, changed, moved: total % A_CHANGE };
}
