import { FASTEST, SLOWEST, tempoInWords } from "../tune/tempo.ts";
import { bpm } from "../units.ts";
import { slowestByBreath, tooLongABreath } from "./breath-limits.ts";
import type { Exercise } from "./exercise.ts";
import { SHORTEST_NOTE_SECONDS } from "./rhythm.ts";
import { withoutShortNotesTold, withShortNotesTold } from "./short-notes.ts";

export interface ChangedTempo {
  readonly exercise: Exercise;
  /** One sentence on why the tempo goes no further; null where it went all the way. */
  readonly held: string | null;
}

/**
 * The same exercise slower or faster, as far as `makeDrill` would have made it: held to what a tempo may be, to notes long
 * enough to be marked, and to what may be asked of one breath. A tune is held where most of its notes would be too short;
 * those that are before are told.
 *
 * @param step beats a minute to add, negative for slower
 */
export function changeTempo(exercise: Exercise, step: number): ChangedTempo {
  const { slowest, fastest } = tempoLimits(exercise);
  const wanted = exercise.tempo.bpm + step;
  // No tempo at all may be left, in a file of another make: then it stays where it is.
  const reached = slowest > fastest ? exercise.tempo.bpm : Math.max(slowest, Math.min(fastest, wanted));
  const changed = withShortNotesTold({
    ...withoutShortNotesTold(exercise),
    tempo: { ...exercise.tempo, bpm: bpm(reached) },
  });
  if (reached === wanted) return { exercise: changed, held: null };
  const end = wanted > reached ? "fast" : "slow";
  const why = wanted > reached ? tooFast(exercise) : tooSlow(exercise, wanted);
  return { exercise: changed, held: `${tempoInWords(changed.tempo)} is as ${end} as this goes: ${why}.` };
}

function tempoLimits(exercise: Exercise) {
  return {
    slowest: Math.max(SLOWEST, slowestByBreath(exercise.kind, exercise.notes)),
    fastest: Math.min(FASTEST, fastestOf(exercise)),
  };
}

/** A tune at its dance's tempo may be beyond the limit: it never turns slower for being asked to go faster. */
function fastestOf(exercise: Exercise): number {
  const fastest = fastestByLength(exercise);
  return exercise.kind === "tune" ? Math.max(fastest, exercise.tempo.bpm) : fastest;
}

function fastestByLength({ kind, notes }: Exercise): number {
  const lengths = notes.map((note) => note.lengthBeats).sort((one, other) => one - other);
  // A tune has its quick notes as it is written; of a drill every note is to be marked.
  const counts = kind === "tune" ? lengths[Math.floor(lengths.length / 2)] : lengths[0];
  return Math.floor((60 * (counts ?? 0)) / SHORTEST_NOTE_SECONDS + 1e-9);
}

function tooFast(exercise: Exercise): string {
  if (fastestByLength(exercise) >= FASTEST) return `there is no faster tempo than ${FASTEST}`;
  const shortest = `${1000 * SHORTEST_NOTE_SECONDS} ms`;
  return exercise.kind === "tune"
    ? `faster, most notes would be shorter than ${shortest} and could not be marked`
    : `faster notes than ${shortest} cannot be marked`;
}

function tooSlow({ kind, notes }: Exercise, wanted: number): string {
  const breath = tooLongABreath(kind, notes, { bpm: bpm(Math.max(wanted, SLOWEST)) });
  return breath === null ? `there is no slower tempo than ${SLOWEST}` : `slower, ${breath.fault}`;
}
