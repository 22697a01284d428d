import { describe, expect, test } from "vitest";
import { type Answer, splitIntoStretches, timeAnswers } from "../../../core/score/stretches.ts";

const NOTE_SECONDS = 1 / 3;
const BEAT = { stretch: 1, beatSeconds: 2 * NOTE_SECONDS, hasBeat: true };

/** Quavers answered, each so many of them early. */
const answered = (early: readonly (readonly [index: number, notes: number])[]): readonly Answer[] =>
  early.map(([index, notes]) => ({
    index,
    writtenSeconds: index * NOTE_SECONDS,
    lengthSeconds: NOTE_SECONDS,
    onSeconds: (index - notes) * NOTE_SECONDS,
    again: false,
  }));

const msOf = (answers: readonly Answer[], stretch = 1) => {
  const stretches = splitIntoStretches(answers, { ...BEAT, stretch });
  const timed = timeAnswers(stretches, 0, BEAT.beatSeconds);
  return {
    begins: stretches.map((one) => one.begins),
    ms: (index: number) => timed.get(index)?.ms ?? Number.NaN,
  };
};

/** In a room the plain reed in place of a bend and the same reed after it are one sound: it answers the second. */
const ranIntoItsReed = answered([
  [0, 0],
  [2, 1],
  [4, 1],
  [5, 1],
  [7, 1],
  [8, 1],
  ...Array.from({ length: 36 }, (_, n) => [9 + n, 0] as const),
]);

describe("where a player went on", () => {
  test("a bend not begun runs into its own reed three times: those notes sound early, nobody skipped", () => {
    const { begins, ms } = msOf(ranIntoItsReed);
    expect(begins).toEqual(["start"]);
    expect(ms(20)).toBeCloseTo(0, 6);
    expect(ms(2)).toBeCloseTo(-1000 * NOTE_SECONDS, 6); // [calc] a quaver early
  });

  test("the same where the first note alone was on the beat, and the take was guessed to be a hundredth slow", () => {
    const { begins, ms } = msOf(ranIntoItsReed, 1.01);
    expect(begins).toEqual(["start"]);
    expect(ms(20)).toBeCloseTo(0, 6);
  });

  test("who leaves a note out and stays ahead has skipped, and is on time from there", () => {
    const first = answered(Array.from({ length: 8 }, (_, n) => [n, 0] as const));
    const rest = answered(Array.from({ length: 20 }, (_, n) => [9 + n, 1] as const));
    const { begins, ms } = msOf([...first, ...rest]);
    expect(begins).toEqual(["start", "skip"]);
    expect(ms(20)).toBeCloseTo(0, 6);
  });
});
