import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { knownReeds } from "../../../core/score/known-reeds.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { milliseconds, seconds } from "../../../core/units.ts";
import { type Accusation, judge, type Named } from "./naming.ts";
import type { Plant } from "./plants.ts";
import type { PlannedTake } from "./take.ts";
import type { Version } from "./versions.ts";

/** A planted note as it came out, for a person to look into. */
export interface Outcome extends Named {
  readonly plant: Plant;
  readonly tab: string;
  readonly lengthMs: number;
}

export interface NoteError {
  readonly index: number;
  /** Sharp and late are positive. */
  readonly by: number;
}

export interface TakeResult {
  readonly tempo: number;
  readonly version: Version;
  readonly title: string;
  readonly take: string;
  readonly outcomes: readonly Outcome[];
  readonly clean: number;
  readonly accused: readonly Accusation[];
  /** Clean notes of which a second reed was told in the leaky version, where there is one. */
  readonly leaksTold: number;
  readonly cleanNotMeasured: number;
  /** Right notes: what was marked less what was played. */
  readonly centsErrors: readonly NoteError[];
  readonly msErrors: readonly NoteError[];
}

/** What a take is marked by besides its sound. */
export interface Marking {
  readonly take: string;
  readonly version: Version;
  readonly attackSeconds: number;
  /** What the playing differs from the plan by, for each note; null where the reed never settled. */
  readonly leftCents: readonly (number | null)[];
}

const SAMPLE_RATE_HZ = 48_000;

/** Marks a take as the program does, and holds the marks against the plants. */
export function markTake(planned: PlannedTake, samples: Float32Array, marking: Marking): TakeResult {
  const { exercise, score, performance } = planned;
  const { take, version, attackSeconds, leftCents } = marking;
  const listening = listenToTake(samples, SAMPLE_RATE_HZ, undefined, knownReeds(exercise.harp));
  const attempt = scoreTake(exercise, listening, {
    ...USUAL_SETTINGS,
    latencyMs: milliseconds(1000 * attackSeconds),
    beatZeroSeconds: seconds(score.leadSeconds),
  });
  const judged = judge(planned, attempt, version === "leak");
  const centsErrors: NoteError[] = [];
  const msErrors: NoteError[] = [];
  for (const mark of attempt.marks) {
    const truth = performance.truths[mark.index];
    if (truth === undefined || mark.verdict !== "hit") continue;
    const left = leftCents[mark.index] ?? null;
    const two = truth.plant?.kind === "two holes at once";
    if (mark.cents !== null && truth.cents !== null && left !== null && !two)
      centsErrors.push({ index: mark.index, by: mark.cents - truth.cents - left });
    if (mark.ms !== null && truth.ms !== null) msErrors.push({ index: mark.index, by: mark.ms - truth.ms });
  }
  return {
    tempo: exercise.tempo.bpm,
    version,
    title: exercise.title,
    take,
    outcomes: judged.named.flatMap((named) => {
      const place = score.places[named.index];
      const plant = performance.truths[named.index]?.plant ?? null;
      if (place === undefined || plant === null) return [];
      return [{ ...named, plant, tab: place.tab, lengthMs: Math.round(1000 * place.lengthSeconds) }];
    }),
    clean: judged.clean,
    accused: judged.accused,
    leaksTold: judged.leaksTold,
    cleanNotMeasured: judged.cleanNotMeasured,
    centsErrors,
    msErrors,
  };
}
