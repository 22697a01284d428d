import { describe, expect, test } from "vitest";
import {
  ATTEMPT_HEADINGS,
  attemptRow,
  NOTE_HEADINGS,
  noteRows,
  type TabledAttempt,
} from "../../../core/archive/history-table.ts";
import { wallTime } from "../../../core/progress/wall-clock.ts";
import { toCsv } from "../../../core/score/csv.ts";
import { entryValue } from "../../support/archives.ts";
import { readTable } from "../../support/read-csv.ts";

const tabled = (changes: Readonly<Record<string, unknown>> = {}): TabledAttempt =>
  ({ id: "attempt-1", ...entryValue(changes) }) as unknown as TabledAttempt;

describe("the time on the wall", () => {
  // [calc] 1774746000 s is 2026-03-29T01:00:00Z, when clocks in Dublin go from 1:00 to 2:00 (last Sunday of March).
  test.each([
    [1_774_745_999_000, "Europe/Dublin", "2026-03-29 00:59:59"],
    [1_774_746_000_000, "Europe/Dublin", "2026-03-29 02:00:00"],
    [1_774_746_000_000, "Asia/Kolkata", "2026-03-29 06:30:00"],
    [1_774_746_000_000, "No/Where", "2026-03-29 01:00:00"],
  ])("%d in %s is %s", (atEpochMs, zone, words) => {
    expect(wallTime(atEpochMs, zone)).toBe(words);
  });
});

describe("the whole history as a table", () => {
  test("has a row for each attempt, with units in the headings", () => {
    const [row, other] = readTable(
      toCsv([
        ATTEMPT_HEADINGS,
        attemptRow(tabled({ starred: true })),
        attemptRow(tabled({ demo: true, source: "recording", atEpochMs: 1_790_046_000_000 })),
      ]),
    );
    const headings: readonly string[] = ATTEMPT_HEADINGS;
    expect(new Set(headings).size).toBe(headings.length);
    expect(headings).toEqual(
      expect.arrayContaining([
        "tempo (beats a minute)",
        "intonation spread (cents)",
        "timing bias (ms; late +)",
      ]),
    );
    expect(row).toMatchObject({
      attempt: "attempt-1",
      "day of practice": "2026-09-21", // [calc] 1790000000 s is 14:13:20 UTC of that day
      "at (local time)": "2026-09-21 15:13:20",
      harp: "G harp",
      position: "2",
      "tempo (beats a minute)": "90",
      beat: "1/4 note",
      "heard by": "microphone",
      star: "yes",
      "made up": "",
      right: "4", // as played
    });
    // [calc] 46000 s later it is four in the morning in Dublin, when the next day of practice begins.
    expect(other).toMatchObject({
      "at (local time)": "2026-09-22 04:00:00",
      "day of practice": "2026-09-22",
      "heard by": "recording",
      "made up": "yes",
    });
  });

  test("has a row for each note, that tells of which attempt it is", () => {
    const attempt = tabled();
    const rows = readTable(toCsv([NOTE_HEADINGS, ...noteRows(attempt)]));
    expect(rows).toHaveLength(attempt.attempt.marks.length + attempt.attempt.extras.length);
    expect(rows[0]).toMatchObject({
      attempt: "attempt-1",
      note: "1",
      mark: "right",
      exercise: attempt.exercise.title,
    });
    expect(new Set(NOTE_HEADINGS).size).toBe(NOTE_HEADINGS.length);
  });

  test("gives no spreadsheet a formula, whatever a title is", () => {
    const attempt = tabled();
    const title = '=HYPERLINK("x")';
    const text = toCsv([attemptRow({ ...attempt, exercise: { ...attempt.exercise, title } })]);
    expect(text).toContain(`"'=HYPERLINK(""x"")"`);
  });
});
