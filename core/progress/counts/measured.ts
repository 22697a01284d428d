import type { Attempt } from "../../score/attempt.ts";
import {
  addSums,
  deviationOf,
  deviationWithin,
  distanceOf,
  meanOf,
  type Sums,
  sumsOf,
  withoutSums,
} from "./sums.ts";

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

export const addMeasured = (one: Measured, other: Measured): Measured => combined(one, other, 1);

/** What is left of a whole without one of its parts: the exact reverse of adding. */
export const withoutMeasured = (whole: Measured, part: Measured): Measured => combined(whole, part, -1);

function combined(one: Measured, other: Measured, sign: 1 | -1): Measured {
  const [a, b] = [one.notes, other.notes];
  const sums = (of: (measured: Measured) => Sums) =>
    sign === 1 ? addSums(of(one), of(other)) : withoutSums(of(one), of(other));
  return {
    notes: {
      expected: a.expected + sign * b.expected,
      hit: a.hit + sign * b.hit,
      wrong: a.wrong + sign * b.wrong,
      missed: a.missed + sign * b.missed,
      notMeasured: a.notMeasured + sign * b.notMeasured,
      extra: a.extra + sign * b.extra,
    },
    plainCents: sums(({ plainCents }) => plainCents),
    bendCents: sums(({ bendCents }) => bendCents),
    beatMs: sums(({ beatMs }) => beatMs),
    onsetMs: sums(({ onsetMs }) => onsetMs),
    evenness: {
      notes: one.evenness.notes + sign * other.evenness.notes,
      squaresTenths: one.evenness.squaresTenths + sign * other.evenness.squaresTenths,
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
 * "intonation spread" is that of plain notes about their mean and of bends about theirs, pooled: that bends lie lower as a
 * whole is told by "bends from plain notes".
 *
 * "bends from plain notes" is how far bends lie from where the plain notes of the same attempts lie on average, as a root mean
 * square: one bend too low and another too high do not make up for each other, and what shifts the whole harp takes no part.
 */
export function measureValue(measure: Measure, measured: Measured): number | null {
  if (measureNotes(measure, measured) < LEAST_NOTES) return null;
  const { notes, plainCents, bendCents, beatMs, onsetMs, evenness } = measured;
  switch (measure) {
    case "notes right":
      return notes.hit / judged(notes);
    case "intonation bias":
      return meanOf(addSums(plainCents, bendCents));
    case "intonation spread":
      return deviationWithin([plainCents, bendCents]);
    case "bends from plain notes":
      return distanceOf(bendCents, meanOf(plainCents) ?? 0);
    case "timing bias":
      return meanOf(beatMs);
    case "timing spread":
      return deviationOf(onsetMs);
    case "evenness":
      return Math.sqrt(evenness.squaresTenths / evenness.notes) / 10;
  }
}

/** Notes a measure rests on; none for bends where too few plain notes say where the harp lies. */
export function measureNotes(measure: Measure, measured: Measured): number {
  const { notes, plainCents, bendCents, beatMs, onsetMs, evenness } = measured;
  switch (measure) {
    case "notes right":
      return judged(notes);
    case "intonation bias":
    case "intonation spread":
      return plainCents.n + bendCents.n;
    case "bends from plain notes":
      return plainCents.n < LEAST_NOTES ? 0 : bendCents.n;
    case "timing bias":
      return beatMs.n;
    case "timing spread":
      return onsetMs.n;
    case "evenness":
      return evenness.notes;
  }
}

const judged = ({ expected, notMeasured }: Pick<NoteCounts, "expected" | "notMeasured">) =>
  expected - notMeasured;

/** Of a stretch of which less can be judged (a take that broke off, a room too loud) nobody knows how it is played. Common practice. */
const LEAST_JUDGED_SHARE = 0.5;

/** So many notes an attempt says how a stretch is played by; 0 where too little of it could be judged. */
export const tellingNotes = (notes: Pick<NoteCounts, "expected" | "notMeasured">): number =>
  judged(notes) >= LEAST_JUDGED_SHARE * notes.expected ? judged(notes) : 0;
