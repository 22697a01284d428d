import { expect, test } from "vitest";
import { itemDayOf } from "../../../core/progress/counts/roll-ups.ts";
import { tuneTry } from "../../../core/progress/repertoire/tune-try.ts";
import { milliseconds } from "../../../core/units.ts";
import { fact, measured } from "../../support/session-facts.ts";

const summaryOf = (hit: number, wrong: number, notMeasured: number) => ({
  notes: { expected: hit + wrong + notMeasured, hit, wrong, missed: 0, notMeasured, extra: 0 },
  timing: { spreadMs: milliseconds(12) },
});
const tryOf = (hit: number, wrong: number, notMeasured: number) =>
  tuneTry({
    rung: "phrase 0-96 at 60 %",
    summary: summaryOf(hit, wrong, notMeasured) as never,
    tempo: "♩ = 90",
    title: "A Tune of Our Own, A 1–4",
    atEpochMs: 0,
  });

test("a try at a rung is measured by the notes that could be judged", () => {
  // [calc] 15 of 20, with ten more that could not be judged
  expect(tryOf(15, 5, 10)).toMatchObject({ rightShare: 0.75, words: "A 1–4" });
});

test("a take that broke off before half of the rung is no try at it, however clean its beginning", () => {
  // [P] Half of the notes, as `tellingNotes` has it: common practice, no source.
  expect(tryOf(9, 0, 11)).toBeNull();
  expect(tryOf(10, 0, 10)).toMatchObject({ rightShare: 1 });
  expect(tryOf(0, 0, 20)).toBeNull();
});

test("nor does it move the day to come back, or reach a tempo", () => {
  const notes = { expected: 20, hit: 9, wrong: 0, missed: 0, notMeasured: 11, extra: 0 };
  const steady = { ...measured({ hit: 9, wrong: 0 }), notes };
  expect(itemDayOf([fact(0, { measured: steady })])).toMatchObject({ first: { judged: 0 }, reached: null });
});
