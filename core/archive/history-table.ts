import { harpName } from "../instrument/harp.ts";
import type { KeptAttempt } from "../progress/counts/session-fact.ts";
import { practiceDay } from "../progress/practice-day.ts";
import { wallTime } from "../progress/wall-clock.ts";
import type { Field } from "../score/csv.ts";
import { MARK_HEADINGS, marksTable } from "../score/marks-table.ts";
import { TOLD_HEADINGS, toldFields } from "../score/recording-results.ts";

/** An attempt of the history, as far as tables tell of it. */
export interface TabledAttempt extends KeptAttempt {
  readonly source: "microphone" | "recording";
  readonly starred?: boolean;
}

type Column = readonly [heading: string, field: (attempt: TabledAttempt) => Field];

const yes = (is: boolean | undefined): Field => (is === true ? "yes" : null);

/** By which a row is found again, in both tables. */
const WHICH: readonly Column[] = [
  ["attempt", ({ id }) => id],
  ["day of practice", ({ atEpochMs, zone }) => practiceDay(atEpochMs, zone)],
  ["at (local time)", ({ atEpochMs, zone }) => wallTime(atEpochMs, zone)],
  ["exercise", ({ exercise }) => exercise.title],
  ["harp", ({ exercise }) => harpName(exercise.harp)],
];

const OF_ATTEMPT: readonly Column[] = [
  ["time zone", ({ zone }) => zone],
  ["heard by", ({ source }) => source],
  ["star", ({ starred }) => yes(starred)],
  ["made up", ({ demo }) => yes(demo)],
  ["kind", ({ exercise }) => exercise.kind],
  ["position", ({ exercise }) => exercise.position],
  ["home", ({ exercise }) => exercise.home],
  ["mode", ({ exercise }) => exercise.mode],
  ["tempo (beats a minute)", ({ exercise }) => exercise.tempo.bpm],
  // A spreadsheet would take 1/4 for the first of April.
  ["beat", ({ exercise }) => `${exercise.tempo.noteValue} note`],
];

/** Headings of the table of attempts, with their units. */
export const ATTEMPT_HEADINGS: readonly string[] = [
  ...WHICH.map(([heading]) => heading),
  ...OF_ATTEMPT.map(([heading]) => heading),
  // The exercise stands among the first.
  ...TOLD_HEADINGS.slice(1),
];

/** One attempt as a row under `ATTEMPT_HEADINGS`. */
export const attemptRow = (attempt: TabledAttempt): readonly Field[] => [
  ...WHICH.map(([, field]) => field(attempt)),
  ...OF_ATTEMPT.map(([, field]) => field(attempt)),
  ...toldFields(attempt.attempt).slice(1),
];

/** The notes of an attempt under `NOTE_HEADINGS`: those asked for and those too many. */
export function noteRows(attempt: TabledAttempt): readonly (readonly Field[])[] {
  const which = WHICH.map(([, field]) => field(attempt));
  return marksTable(attempt.exercise, attempt.attempt)
    .slice(1)
    .map((row) => [...which, ...row]);
}

/** Headings of the table of notes, with their units. */
export const NOTE_HEADINGS: readonly string[] = [...WHICH.map(([heading]) => heading), ...MARK_HEADINGS];
