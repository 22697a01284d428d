import {
  ATTEMPT_HEADINGS,
  attemptRow,
  NOTE_HEADINGS,
  noteRows,
  type TabledAttempt,
} from "../../core/archive/history-table.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { practiceDay } from "../../core/progress/practice-day.ts";
import { wallTime } from "../../core/progress/wall-clock.ts";
import { toCsv } from "../../core/score/csv.ts";
import { choiceOption, fileWords, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import type { Io } from "./io.ts";
import { keptAttempts } from "./kept-attempts.ts";

/** Prints the attempts of an archive one after the other, as a table or as JSON, with their notes if these are wanted. */
export async function history(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["as", "notes"]);
  const [path = ""] = fileWords(read, ["ARCHIVE"]);
  const as = choiceOption(read, "as", "json", ["json", "csv"]);
  const withNotes = choiceOption(read, "notes", "no", ["yes", "no"]) === "yes";
  const { before, one, after } = as === "csv" ? csvWriter(withNotes) : jsonWriter(withNotes);
  io.stdout(before);
  let count = 0;
  try {
    for await (const attempt of keptAttempts(path)) {
      io.stdout(one(attempt, count));
      count += 1;
    }
  } catch (error) {
    // What can be read is printed whole all the same.
    if (error instanceof CommandError && error.status === 1) io.stdout(after);
    throw error;
  }
  io.stdout(after);
}

interface Writer {
  readonly before: string;
  readonly one: (attempt: TabledAttempt, place: number) => string;
  readonly after: string;
}

const csvWriter = (withNotes: boolean): Writer => ({
  before: toCsv([withNotes ? NOTE_HEADINGS : ATTEMPT_HEADINGS]),
  one: (attempt) => toCsv(withNotes ? noteRows(attempt) : [attemptRow(attempt)]),
  after: "",
});

const jsonWriter = (withNotes: boolean): Writer => ({
  before: '{"schema":"reedpath.history","version":1,"attempts":[',
  one: (attempt, place) => `${place === 0 ? "" : ","}\n${JSON.stringify(toldOf(attempt, withNotes))}`,
  after: "\n]}\n",
});

function toldOf(attempt: TabledAttempt, withNotes: boolean) {
  const { id, atEpochMs, zone, source, starred, demo, exercise } = attempt;
  const { title, kind, position, home, mode, tempo, harp } = exercise;
  const { way, take, summary, marks, extras } = attempt.attempt;
  return {
    id,
    atEpochMs,
    zone,
    day: practiceDay(atEpochMs, zone),
    localTime: wallTime(atEpochMs, zone),
    source,
    starred: starred === true,
    madeUp: demo === true,
    exercise: { title, kind, harp: harpName(harp), position, home, mode, tempo },
    way,
    take,
    summary,
    ...(withNotes ? { marks, extras } : {}),
  };
}
