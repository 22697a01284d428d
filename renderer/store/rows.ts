import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { ArchiveNote } from "./archive-note.ts";
import type { HistoryLine, StoredTake } from "./history-entry.ts";
import type { RunningHead } from "./running-take.ts";

/**
 * What the list reads: small, one for each attempt. What is indexed only where it is so is absent elsewhere: an index holds no
 * rows without its parts.
 */
export type LineRow = Omit<HistoryLine, "starred" | "demo"> & {
  /** Of the row in `subjects` that counts it. */
  readonly subject: number;
  readonly starred?: 1;
  readonly demo?: 1;
  /** When it was played, where its take may be dropped for space. */
  readonly dropAt?: number;
};

/** What was practised, each once, with how many attempts there are of it: filters look here first. */
export interface SubjectRow extends SubjectOfLine {
  readonly id: number;
  /** Everything above in one text. */
  readonly key: string;
  readonly attempts: number;
}

export interface SubjectOfLine extends Pick<HistoryLine, "title" | "harpName" | "position" | "techniques"> {
  readonly tuneId?: string;
  readonly demo: boolean;
}

/** What reopening an attempt reads besides its take. */
export interface AttemptRow {
  readonly id: string;
  readonly packed: Uint8Array;
}

/** The samples, apart, so that nothing but hearing a take ever loads them. */
export type TakeRow = { readonly id: string } & StoredTake;

/** A `GroupDay` as `packed-rows.ts` makes it. */
export interface GroupDayRow {
  readonly group: string;
  readonly day: PracticeDay;
  /** What it is like and what it was, as JSON: the same text for every day of a group. */
  readonly what: string;
  readonly firstId: string;
  readonly firstAtEpochMs: number;
  readonly counts: Uint8Array;
  /** Of every measure in their order, NaN where there is none. */
  readonly best: Float64Array;
}

/** A `ReedDay` as `packed-rows.ts` makes it. */
export interface ReedDayRow {
  readonly group: string;
  readonly day: PracticeDay;
  readonly harp: string;
  readonly firstId: string;
  readonly firstAtEpochMs: number;
  /** Reed actions, an empty name, pairs; with line ends between. */
  readonly names: string;
  readonly counts: Uint8Array;
}

/** The attempts of a day at a tune, as `tune-tries.ts` packs them: a repertoire is read without reading lines. */
export interface TuneDayRow {
  readonly tuneId: string;
  readonly day: PracticeDay;
  /** Of each attempt its rung, its stretch in words and the note value counted, as one JSON list. */
  readonly texts: string;
  /** Of each its instant, share right, spread (NaN where there is none) and beats a minute. */
  readonly numbers: Float64Array;
}

/** What is known of a take that is being recorded, as of its last piece. */
export interface RunningRow extends RunningHead {
  readonly id: string;
  /** In all of its pieces. */
  readonly samples: number;
  /** Of its loudest sample, 0..1. */
  readonly peak: number;
}

/** A part of a take that is being recorded. */
export interface PieceRow {
  readonly take: string;
  /** 0 for the first. */
  readonly number: number;
  readonly samples: Float32Array;
}

/** What is known of the database itself. */
export type MetaRow =
  /** Takes that are kept, and what they need together. */
  | { readonly id: "takes"; readonly count: number; readonly bytes: number }
  /** By which rules attempts were counted: `FACT_VERSION`. */
  | { readonly id: "rules"; readonly factVersion: number }
  /** Takes that an earlier version stored as they were, still to be packed. */
  | { readonly id: "plain takes"; readonly ids: readonly string[] }
  /** Nothing that the second copy holds is missing here. */
  | { readonly id: "copy" }
  /** When an archive was saved last, by what had been practised then. */
  | ({ readonly id: "archive" } & ArchiveNote);
