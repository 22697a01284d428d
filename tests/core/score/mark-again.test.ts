import { describe, expect, test } from "vitest";
import { retune } from "../../../core/exercise/retune.ts";
import { EQUAL } from "../../../core/instrument/temperament.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { markingOf, settingsAgain } from "../../../core/score/mark-again.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { cents, hz, milliseconds, seconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";

const exercise = exerciseOf();
const take = simulateTake(exercise, { seed: 6, plants: [], sampleRateHz: 44_100 });
const listening = listenToTake(take.samples, take.sampleRateHz);
const zero = seconds(4 * (60 / 90)); // [calc] a count-in of four crotchets at 90
const kept = scoreTake(exercise, listening, {
  ...USUAL_SETTINGS,
  latencyMs: milliseconds(20),
  beatZeroSeconds: zero,
});

describe("a kept take marked again", () => {
  test("by the same settings has the same marks", () => {
    const { latencyMs, ...tuning } = markingOf(exercise, kept);
    expect(scoreTake(retune(exercise, tuning), listening, settingsAgain(kept, latencyMs))).toEqual(kept);
  });

  test("by another A every note moves by the same cents", () => {
    const higher = retune(exercise, { a4: hz(444), temperament: EQUAL });
    const again = scoreTake(higher, listening, settingsAgain(kept, kept.latencyMs));
    // [calc] 1200 log2(444/440) = 15.67 cents; what sounded at 440 is that much flat.
    again.marks.forEach((mark, index) => {
      expect((mark.cents ?? 0) - (kept.marks[index]?.cents ?? 0)).toBeCloseTo(-15.67, 2);
    });
  });

  test("by another delay every onset moves by it, and no pitch does", () => {
    const again = scoreTake(exercise, listening, settingsAgain(kept, milliseconds(50)));
    expect(again.latencyMs).toBe(50);
    again.marks.forEach((mark, index) => {
      const before = kept.marks[index];
      expect((mark.ms ?? 0) - (before?.ms ?? 0)).toBeCloseTo(-30, 6);
      expect(mark.cents).toBe(before?.cents);
      expect(mark.onSeconds).toBeCloseTo(before?.onSeconds ?? Number.NaN, 9);
    });
  });

  test("by a just scheme the third of the key moves and its fifth hardly", () => {
    const just = retune(exercise, {
      a4: hz(440),
      temperament: { kind: "scheme", scheme: "just-first-position" },
    });
    const again = scoreTake(just, listening, settingsAgain(kept, kept.latencyMs));
    const moved = (name: string) => {
      const { index = -1 } = exercise.notes.find((note) => note.noteName.startsWith(name)) ?? {};
      return (again.marks[index]?.cents ?? Number.NaN) - (kept.marks[index]?.cents ?? Number.NaN);
    };
    // [calc] on a G harp B is 5/4: 386.31 cents, 13.69 below equal, so an equal B is 13.69 sharp; D is 3/2: 701.96, 1.96 flat.
    expect(moved("B")).toBeCloseTo(13.69, 2);
    expect(moved("D")).toBeCloseTo(-1.96, 2);
  });

  test("a reed that was measured stays where it sounds, whatever it is asked for", () => {
    const offsets = harp("G").layout.holes.map(() => ({ blow: cents(7), draw: cents(-4) }));
    const measured = { ...exercise, harp: { ...exercise.harp, reedOffsets: offsets } };
    const before = scoreTake(measured, listening);
    const just = retune(measured, {
      a4: hz(442),
      temperament: { kind: "scheme", scheme: "just-first-position" },
    });
    const again = scoreTake(just, listening);
    expect(again.marks.map((mark) => mark.verdict)).toEqual(before.marks.map((mark) => mark.verdict));
    again.marks.forEach((mark, index) => {
      expect(mark.cents).toBeCloseTo(before.marks[index]?.cents ?? Number.NaN, 6);
    });
  });

  test("an exercise tuned there and back is the exercise it was", () => {
    const there = retune(exercise, {
      a4: hz(415),
      temperament: { kind: "scheme", scheme: "just-third-position" },
    });
    expect(there.notes.map((note) => note.targetCents)).not.toEqual(
      exercise.notes.map((note) => note.targetCents),
    );
    const back = retune(there, { a4: exercise.harp.a4, temperament: EQUAL });
    expect(back).toEqual(exercise);
  });
});
