import { expect, it } from "vitest";
import type { TrueNote, Truth } from "./corpus/truth.ts";
import { bendErrors } from "./measures/bend-measures.ts";
import { type LeakOutcome, leakOutcomes, leakScore } from "./measures/leak-measures.ts";

const truthOf = (notes: readonly TrueNote[]): Truth => ({
  name: "",
  group: "",
  notes,
  f0: [],
  voiced: [],
});
const leaky = (midi: number | null, db: number | null): LeakOutcome => ({
  trueMidi: midi,
  heard: db === null ? null : { midi: 64, db },
});

it("leaks are told of the heard note that is the true one, and a note not heard has none", () => {
  const leak = { midi: 64, cents: 0, db: -12 };
  const truth = truthOf([
    { on: 1, off: 1.2, midi: 60, cents: 0, leak },
    { on: 2, off: 2.2, midi: 60, cents: 0, leak: null },
    { on: 3, off: 3.2, midi: 60, cents: 0, leak },
  ]);
  const said = { midi: 64, db: -13 };
  const notes = [
    { on: 1.01, off: 1.2, midi: 60, leak: said },
    { on: 2.2, off: 2.4, midi: 60, leak: said },
    { on: 3, off: 3.2, midi: 62, leak: said },
  ];
  // the second is 200 ms late, the third another note
  expect(leakOutcomes(truth, { frames: [], notes })).toEqual([
    { trueMidi: 64, heard: said },
    { trueMidi: null, heard: null },
    { trueMidi: 64, heard: null },
  ]);
});

it("leaks are counted as they come, and above the level that leaves the false alarms asked for", () => {
  const clean = Array.from({ length: 100 }, (_, n) => leaky(null, n < 5 ? -30 + n : null));
  const outcomes = [...clean, leaky(64, -12), leaky(64, -27.5), leaky(65, -20), leaky(64, null)];
  // [calc] alarms at -26, -27, -28, -29, -30: three of a hundred may stay, so only what is above -29 dB counts
  expect(leakScore(outcomes, 0.03)).toEqual({
    leaky: 4,
    clean: 100,
    found: 0.75,
    falseAlarms: 0.05,
    foundAtLimit: 0.75,
    levelDb: -29,
    rightReed: 2 / 3,
  });
});

it("with fewer false alarms than allowed every leak counts", () => {
  const outcomes = [leaky(64, -40), leaky(null, null), leaky(null, null)];
  const { foundAtLimit, levelDb, falseAlarms } = leakScore(outcomes, 0.03);
  expect([foundAtLimit, levelDb, falseAlarms]).toEqual([1, null, 0]);
});

it("bends are measured from the engine's own unbent note, so that the tuning of the samples drops out", () => {
  const bend = (on: number, cents: number) => ({ on, off: on + 0.5, midi: 60, cents });
  const truth = truthOf([bend(1, 0), bend(2, -37), bend(3, 23), bend(4, 50)]);
  // heard 8 cents sharp throughout, the first bend another 0.25 flat, the last not at all
  const notes = [8, -29.25, 31].map((cents, n) => ({ on: n + 1, off: n + 1.5, midi: 60, cents }));
  expect(bendErrors(truth, { frames: [], notes }, "notes")).toEqual({ cents: [-0.25, 0], gross: 1 });
});
