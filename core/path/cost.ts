import type { ReedAction } from "../instrument/reed-actions.ts";
import type { LineNote } from "./line.ts";
import type { Weights } from "./weights.ts";

/** What the cost of a note or a move depends on besides the reed actions. */
type Timed = Pick<LineNote, "startSeconds" | "lengthSeconds">;

/** How many times an effort counts that has so many seconds, by `comfortableSeconds`. */
export function hurry(availableSeconds: number, weights: Weights): number {
  const { comfortableSeconds, leastHurry, mostHurry } = weights;
  if (availableSeconds <= 0) return mostHurry;
  return Math.min(mostHurry, Math.max(leastHurry, comfortableSeconds / availableSeconds));
}

/** Effort of sounding a note at the comfortable time: 0 for a plain one. */
export function techniqueEffort(action: ReedAction, weights: Weights): number {
  switch (action.technique) {
    case "plain":
      return 0;
    case "bend":
      return weights.bend + weights.bendFurther * (action.bentSemitones - 1);
    case "overblow":
      return weights.overblow;
    case "overdraw":
      return weights.overdraw;
  }
}

/** Effort of going from one reed action to the next at the comfortable time. */
export function moveEffort(from: ReedAction, to: ReedAction, weights: Weights): number {
  const holes = Math.abs(to.hole - from.hole);
  const turns = to.breath !== from.breath;
  if (holes === 0) return turns ? weights.breathChange + weights.sameHoleFlip : 0;
  const way = weights.neighbourHole + weights.furtherHole * (holes - 1);
  return turns ? way + weights.breathChange + weights.jumpWithChange * (holes - 1) : way;
}

/** Effort of two unlike tones one after the other, whatever the time. */
export function toneEffort(from: ReedAction, to: ReedAction, weights: Weights): number {
  return (from.technique === "plain") === (to.technique === "plain") ? 0 : weights.toneChange;
}

/** Seconds from a note's onset to the next onset; the last note has its length. */
export function secondsFor(note: Timed, next: Timed | null): number {
  return next === null ? note.lengthSeconds : next.startSeconds - note.startSeconds;
}

/** Whether the tones of two notes are compared: no rest lies between them. */
export function areJoined(note: Timed, next: Timed, weights: Weights): boolean {
  // A hair more, so that a rest of exactly that length counts whatever arithmetic did to it.
  return next.startSeconds - note.startSeconds - note.lengthSeconds < weights.restSeconds - 1e-9;
}

/** Cost of sounding a note: its technique, the more the shorter it is. */
export function noteCost(note: Timed, next: Timed | null, action: ReedAction, weights: Weights): number {
  const effort = techniqueEffort(action, weights);
  return effort === 0 ? 0 : hurry(secondsFor(note, next), weights) * effort;
}

/** Cost of going on from one note to the next. */
export function stepCost(
  note: Timed,
  next: Timed,
  from: ReedAction,
  to: ReedAction,
  weights: Weights,
): number {
  const move = moveEffort(from, to, weights);
  const tone = areJoined(note, next, weights) ? toneEffort(from, to, weights) : 0;
  return move * hurry(secondsFor(note, next), weights) + tone;
}

/**
 * Cost of a whole path: the sum of what its notes and its moves cost. Notes that are not sounded are passed over.
 *
 * @param actions one for each note, null where it is not sounded
 */
export function pathCost(
  line: readonly Timed[],
  actions: readonly (ReedAction | null)[],
  weights: Weights,
): number {
  let cost = 0;
  let before: { readonly note: Timed; readonly action: ReedAction } | null = null;
  for (const [index, note] of line.entries()) {
    const action = actions[index];
    if (action === null || action === undefined) continue;
    cost += noteCost(note, line[index + 1] ?? null, action, weights);
    if (before !== null) cost += stepCost(before.note, note, before.action, action, weights);
    before = { note, action };
  }
  return cost;
}
