import { describe, expect, test } from "vitest";
import { readAttempt } from "../../../core/score/attempt-versions.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { exerciseOf } from "../../support/drills.ts";
import { listeningOf } from "../../support/listenings.ts";
import { playNotes } from "../../support/players.ts";

const exercise = exerciseOf();
const attempt = scoreTake(exercise, listeningOf(playNotes(exercise).slice(0, 12)));

/** What version 1 wrote, field by field: the format of the first released history. */
const NEW_IN_2 = {
  attempt: ["way", "ornaments", "abandoned", "stretches", "advice"],
  mark: [
    "reedCents",
    "scoop",
    "fall",
    "hold",
    "msFrom",
    "msUncertain",
    "lengthShare",
    "diagnosis",
    "secondReed",
  ],
  timing: ["evennessShare", "tempoDrift", "swing"],
  intonation: ["bends", "reedsTakenOff"],
} as const;

const without = (whole: object, names: readonly string[]) =>
  Object.fromEntries(Object.entries(whole).filter(([name]) => !names.includes(name)));

function asVersion1() {
  const { notes, intonation, timing } = attempt.summary;
  return {
    ...without(attempt, NEW_IN_2.attempt),
    version: 1,
    tolerances: without(attempt.tolerances, ["bendInTuneCents"]),
    marks: attempt.marks.map((mark) => without(mark, NEW_IN_2.mark)),
    summary: {
      notes,
      intonation: without(intonation, NEW_IN_2.intonation),
      timing: without(timing, NEW_IN_2.timing),
    },
  };
}

describe("kept attempts", () => {
  test("of this version open as they were kept", () => {
    expect(readAttempt(structuredClone(attempt))).toEqual({ kind: "attempt", attempt });
  });

  test("of version 1 open with what they do not tell as null or empty", () => {
    const read = readAttempt(asVersion1());
    if (read.kind === "unreadable") throw new Error(read.reason);
    expect(read.attempt.marks.map((mark) => [mark.verdict, mark.cents, mark.ms])).toEqual(
      attempt.marks.map((mark) => [mark.verdict, mark.cents, mark.ms]),
    );
    for (const name of NEW_IN_2.mark.filter((one) => one !== "msUncertain"))
      expect(
        read.attempt.marks.every((mark) => mark[name] === null),
        name,
      ).toBe(true);
    for (const name of NEW_IN_2.attempt.filter((one) => one !== "way"))
      expect(read.attempt[name]).toEqual([]);
    expect(read.attempt).toMatchObject({ version: 2, way: "in time" });
    expect(read.attempt.summary).toMatchObject({
      notes: attempt.summary.notes,
      intonation: { bends: null },
      timing: { swing: null, evennessShare: null, biasMs: attempt.summary.timing.biasMs },
      hold: null,
    });
  });

  test("have the same fields whatever version they were kept by", () => {
    const read = readAttempt(asVersion1());
    if (read.kind === "unreadable") throw new Error(read.reason);
    expect(Object.keys(read.attempt).sort()).toEqual(Object.keys(attempt).sort());
    expect(Object.keys(read.attempt.marks[0] ?? {}).sort()).toEqual(
      Object.keys(attempt.marks[0] ?? {}).sort(),
    );
  });

  test("of a newer version, or of something else, are refused in one line", () => {
    expect(readAttempt({ ...attempt, version: 3 })).toMatchObject({
      reason: expect.stringMatching(/newer version/),
    });
    expect(readAttempt({ schema: "reedpath.exercise" })).toMatchObject({ kind: "unreadable" });
    expect(readAttempt(null)).toMatchObject({ kind: "unreadable" });
  });
});
