import { FASTEST, SLOWEST, tempoInWords } from "../tune/tempo.ts";
import { bpm } from "../units.ts";
import { slowestByBreath, tooLongABreath } from "./breath-limits.ts";
import type { Exercise } from "./exercise.ts";
import { SHORTEST_NOTE_SECONDS } from "./rhythm.ts";

export interface ChangedTempo {
  readonly exercise: Exercise;
  /** One sentence on why the tempo goes no further; null where it went all the way. */
  readonly held: string | null;
}

/**
 * The same exercise slower or faster, as far as `makeDrill` would have made it: held to what a tempo may be, to notes long
 * enough to be marked, and to what may be asked of one breath.
 *
 * @param step beats a minute to add, negative for slower
 */
export function changeTempo(exercise: Exercise, step: number): ChangedTempo {
  const { slowest, fastest } = tempoLimits(exercise);
  const wanted = exercise.tempo.bpm + step;
  // No tempo at all may be left, in a file of another make: then it stays where it is.
  const reached = slowest > fastest ? exercise.tempo.bpm : Math.max(slowest, Math.min(fastest, wanted));
  const changed = { ...exercise, tempo: { ...exercise.tempo, bpm: bpm(reached) } };
  if (reached === wanted) return { exercise: changed, held: null };
  const end = wanted > reached ? "fast" : "slow";
  const why = wanted > reached ? tooFast(exercise) : tooSlow(exercise, wanted);
  return { exercise: changed, held: `${tempoInWords(changed.tempo)} is as ${end} as this goes: ${why}.` };
}

function tempoLimits(exercise: Exercise) {
  return {
    slowest: Math.max(SLOWEST, slowestByBreath(exercise.kind, exercise.notes)),
    fastest: Math.min(FASTEST, fastestByLength(exercise)),
  };
}

function fastestByLength({ notes }: Exercise): number {
  const shortest = Math.min(...notes.map((note) => note.lengthBeats));
  return Math.floor((60 * shortest) / SHORTEST_NOTE_SECONDS + 1e-9);
}

function tooFast(exercise: Exercise): string {
  if (fastestByLength(exercise) >= FASTEST) return `there is no faster tempo than ${FASTEST}`;
  return `faster notes than ${1000 * SHORTEST_NOTE_SECONDS} ms cannot be marked`;
}

function tooSlow({ kind, notes }: Exercise, wanted: number): string {
  const breath = tooLongABreath(kind, notes, { bpm: bpm(Math.max(wanted, SLOWEST)) });
  return breath === null ? `there is no slower tempo than ${SLOWEST}` : `slower, ${breath.fault}`;
}
