import type { Attempt } from "../score/attempt.ts";
import { addSums, deviationOf, meanOf, type Sums, sumsOf } from "./sums.ts";

/** What one attempt or many gave, as counts and sums that can be added up. */
export interface Measured {
  readonly notes: NoteCounts;
  /** Cents from the target; positive is sharp. */
  readonly plainCents: Sums;
  /** The same of bends and overblows. */
  readonly bendCents: Sums;
  /** Milliseconds from the beat, positive is late; empty where the recording has no beat to measure from. */
  readonly beatMs: Sums;
  /** Milliseconds from the beat or, after a stop, from where the player went on. */
  readonly onsetMs: Sums;
  /** Evenness of each attempt, squared and as heavy as it has notes. */
  readonly evenness: { readonly notes: number; readonly squaresTenths: number };
}

export interface NoteCounts {
  readonly expected: number;
  readonly hit: number;
  readonly wrong: number;
  readonly missed: number;
  readonly notMeasured: number;
  readonly extra: number;
}

/** What is measured of an attempt. */
export function measuredOf({ marks, summary, start }: Attempt): Measured {
  const { expected, hit, wrong, missed, notMeasured, extra } = summary.notes;
  const centsOf = (plain: boolean) =>
    marks.flatMap(({ action, cents, intonation }) =>
      intonation === null || cents === null || (action.technique === "plain") !== plain ? [] : [cents],
    );
  const onsets = marks.flatMap(({ ms, msFrom }) => (ms === null ? [] : [{ ms, msFrom }]));
  const fromBeat = start.source === "found" ? [] : onsets.filter(({ msFrom }) => msFrom === "beat");
  const evennessTenths = Math.round(10 * (summary.timing.evennessMs ?? 0));
  const evenNotes = summary.timing.evennessMs === null ? 0 : summary.timing.measuredNotes;
  return {
    notes: { expected, hit, wrong, missed, notMeasured, extra },
    plainCents: sumsOf(centsOf(true)),
    bendCents: sumsOf(centsOf(false)),
    beatMs: sumsOf(fromBeat.map(({ ms }) => ms)),
    onsetMs: sumsOf(onsets.map(({ ms }) => ms)),
    evenness: { notes: evenNotes, squaresTenths: evenNotes * evennessTenths * evennessTenths },
  };
}

export function addMeasured(one: Measured, other: Measured): Measured {
  const [a, b] = [one.notes, other.notes];
  return {
    notes: {
      expected: a.expected + b.expected,
      hit: a.hit + b.hit,
      wrong: a.wrong + b.wrong,
      missed: a.missed + b.missed,
      notMeasured: a.notMeasured + b.notMeasured,
      extra: a.extra + b.extra,
    },
    plainCents: addSums(one.plainCents, other.plainCents),
    bendCents: addSums(one.bendCents, other.bendCents),
    beatMs: addSums(one.beatMs, other.beatMs),
    onsetMs: addSums(one.onsetMs, other.onsetMs),
    evenness: {
      notes: one.evenness.notes + other.evenness.notes,
      squaresTenths: one.evenness.squaresTenths + other.evenness.squaresTenths,
    },
  };
}

/** The measures, each by itself and in its own unit. */
export const MEASURES = [
  "notes right",
  "intonation bias",
  "intonation spread",
  "bends from plain notes",
  "timing bias",
  "timing spread",
  "evenness",
] as const;
export type Measure = (typeof MEASURES)[number];

/** How a measure is read. */
export interface MeasureKind {
  readonly unit: "share" | "cents" | "ms";
  /**
   * Which way is better. Null where a change is told but never called better or worse: what shifts all notes alike may be the
   * harp growing cold, another A or a delay that is no longer right as well as the player.
   */
  readonly better: "more" | "less" | null;
}

export const MEASURE_KINDS: Readonly<Record<Measure, MeasureKind>> = {
  "notes right": { unit: "share", better: "more" },
  "intonation bias": { unit: "cents", better: null },
  "intonation spread": { unit: "cents", better: "less" },
  "bends from plain notes": { unit: "cents", better: "less" },
  "timing bias": { unit: "ms", better: null },
  "timing spread": { unit: "ms", better: "less" },
  evenness: { unit: "ms", better: "less" },
};

/** Fewer notes say nothing about a session. Common practice, no source. */
export const LEAST_NOTES = 8;

/**
 * The value of a measure in its unit (a share is 0..1); null with fewer than eight notes it could be measured on.
 *
 * "bends from plain notes" is how far bends lie on average from where the plain notes of the same attempts lie, without sign: what
 * shifts the whole harp takes no part.
 */
export function measureValue(measure: Measure, measured: Measured): number | null {
  const { notes, plainCents, bendCents, beatMs, onsetMs, evenness } = measured;
  const judged = notes.expected - notes.notMeasured;
  const allCents = addSums(plainCents, bendCents);
  switch (measure) {
    case "notes right":
      return judged < LEAST_NOTES ? null : notes.hit / judged;
    case "intonation bias":
      return enough(allCents, meanOf);
    case "intonation spread":
      return enough(allCents, deviationOf);
    case "bends from plain notes": {
      const [bends, plain] = [enough(bendCents, meanOf), enough(plainCents, meanOf)];
      return bends === null || plain === null ? null : Math.abs(bends - plain);
    }
    case "timing bias":
      return enough(beatMs, meanOf);
    case "timing spread":
      return enough(onsetMs, deviationOf);
    case "evenness":
      return evenness.notes < LEAST_NOTES ? null : Math.sqrt(evenness.squaresTenths / evenness.notes) / 10;
  }
}

const enough = (sums: Sums, value: (sums: Sums) => number | null): number | null =>
  sums.n < LEAST_NOTES ? null : value(sums);
