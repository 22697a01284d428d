import { describe, expect, test } from "vitest";
import { withOffsetsOf } from "../../../../core/instrument/reed-offsets.ts";
import { cents, dbfs, hz, midi, seconds } from "../../../../core/units.ts";
import { agreedReading } from "../../../../core/workshop/measure/agreement.ts";
import { pairBeats, pairOf, reedPairs } from "../../../../core/workshop/measure/beats.ts";
import { resultsInWords } from "../../../../core/workshop/measure/measure-words.ts";
import { emptyMeasurement, type ReedMeasurement } from "../../../../core/workshop/measure/measurement.ts";
import { offsetsFor, reedResults } from "../../../../core/workshop/measure/reed-results.ts";
import { harp } from "../../../support/harps.ts";

const reading = (pitch: number) => ({
  midi: midi(pitch),
  wanderCents: cents(0.5),
  settledSeconds: seconds(0.8),
  levelDbfs: dbfs(-20),
});

/** A C harp of which these reeds were measured: fractional MIDI numbers by reed. */
function measured(pitches: Readonly<Record<string, number>>): ReedMeasurement {
  const empty = emptyMeasurement(harp("C"), "microphone");
  const reeds = empty.reeds.map((reed) => {
    const pitch = pitches[`${reed.hole} ${reed.breath}`];
    return pitch === undefined
      ? reed
      : { ...reed, readings: [reading(pitch), reading(pitch)], outcome: "measured" as const };
  });
  return { ...empty, reeds };
}

describe("readings of one reed", () => {
  test("come to the median of those that agree, with their whole range", () => {
    // [calc] 60.00, 60.02, 60.03 lie within 4 cents; 60.30 is left out; median 60.02, range 3 cents.
    const agreed = agreedReading([60, 60.3, 60.03, 60.02].map(reading));
    expect(agreed).toMatchObject({ midi: 60.02, counted: 3, leftOut: 1, agreed: true });
    expect(agreed?.rangeCents).toBeCloseTo(3, 6);
  });

  test("without three that agree all count, and that is said", () => {
    // [calc] median of 60, 60.1, 60.2 is 60.1, range 20 cents.
    const agreed = agreedReading([60.2, 60, 60.1].map(reading));
    expect(agreed).toMatchObject({ midi: 60.1, counted: 3, agreed: false });
    expect(agreed?.rangeCents).toBeCloseTo(20, 6);
    expect(agreedReading([])).toBeNull();
  });
});

describe("results against a scheme", () => {
  test("are cents from the target of the harp's temperament and A4", () => {
    const one = measured({ "1 blow": 60.05, "2 blow": 64 });
    const offset = (n: number, harpNow?: Parameters<typeof reedResults>[1]) =>
      reedResults(one, harpNow)[n]?.offsetCents;
    expect(offset(0)).toBeCloseTo(5, 6);
    // [calc] against A4 = 442 Hz targets lie 1200 log2(442/440) = 7.85 cents higher.
    expect(offset(0, { ...harp("C"), a4: hz(442) })).toBeCloseTo(5 - 7.85, 2);
    // [F19] a pure major third above the key note lies 13.69 cents below the equal one.
    const just = { ...harp("C"), temperament: { kind: "scheme", scheme: "just-first-position" } as const };
    expect(offset(2, just)).toBeCloseTo(13.69, 2);
  });

  test("a reed a semitone below its note is failing, one 80 cents below is not yet", () => {
    const results = reedResults(measured({ "4 draw": 73, "5 draw": 76.2 }));
    const failing = results.filter((result) => result.failing);
    // [F1] 4 draw is D5, MIDI 74; 5 draw F5, 77.
    expect(failing).toMatchObject([{ hole: 4, breath: "draw" }]);
    expect(resultsInWords(results)[0]).toMatch(/^4 draw sounds 100 cents below its note/);
  });

  test("notes that differ are told with their range, notes that are only few are told as few", () => {
    const { reeds, ...rest } = measured({ "1 blow": 60, "2 blow": 64 });
    const spread = reeds.map((reed) =>
      reed.hole === 2 && reed.breath === "blow" ? { ...reed, readings: [64, 64.2, 64.1].map(reading) } : reed,
    );
    const words = resultsInWords(reedResults({ ...rest, reeds: spread }));
    // [calc] from 64 to 64.2 there are 20 cents; 1 blow was heard twice, alike.
    expect(words).toContain("2 blow: its notes differ by 20.0 cents; measure it again.");
    expect(words).toContain("Heard less than 3 times, and so less sure: 1 blow.");
    expect(words.filter((one) => one.includes("differ"))).toHaveLength(1);
  });

  test("what marks take off is each measured reed's offset, none for what lies far off", () => {
    const offsets = offsetsFor(harp("C"), measured({ "1 blow": 60.09, "4 draw": 73, "2 draw": 66.88 }));
    expect(offsets[0]).toEqual({ blow: 9, draw: null });
    expect(offsets[1]).toEqual({ blow: null, draw: -12 });
    expect(offsets[3]).toEqual({ blow: null, draw: null });
  });

  test("and stays with the harp when its A4 is changed, counted from the new target, but not with another harp", () => {
    const offsets = offsetsFor(harp("C"), measured({ "1 blow": 60.09 }));
    const own = { ...harp("C"), reedOffsets: offsets };
    // [calc] 9 - 7.85 = 1.15 cents.
    expect(withOffsetsOf(own, { ...harp("C"), a4: hz(442) }).reedOffsets?.[0]?.blow).toBeCloseTo(1.15, 2);
    expect(withOffsetsOf(own, harp("D")).reedOffsets).toBeUndefined();
  });
});

describe("beats of two reeds", () => {
  // [F26] an octave off by 1 Hz at the upper note beats once a second; [calc] fifth |3 low - 2 high|, third |5 low - 4 high|.
  test.each([
    ["octave", 1, 4, 12, (low: number, high: number) => Math.abs(2 * low - high)],
    ["fifth", 1, 3, 7, (low: number, high: number) => Math.abs(3 * low - 2 * high)],
    ["major third", 1, 2, 4, (low: number, high: number) => Math.abs(5 * low - 4 * high)],
  ])("an %s of blow reeds", (_, lowHole, highHole, semitones, formula) => {
    const pair = pairOf(harp("C"), "blow", lowHole, highHole);
    if (pair === null) throw new Error("no such pair");
    const [low, high] = [60.031, 60 + semitones - 0.044];
    const beats = pairBeats(
      pair,
      reedResults(measured({ [`${lowHole} blow`]: low, [`${highHole} blow`]: high })),
    );
    const hzOf = (pitch: number) => 440 * 2 ** ((pitch - 69) / 12);
    expect(beats.measured).toBeCloseTo(formula(hzOf(low), hzOf(high)), 6);
    expect(beats.wanted).toBeCloseTo(formula(hzOf(60), hzOf(60 + semitones)), 6);
    // [calc] how far the played interval is from the pure one.
    const pure = { 12: 1200, 7: 701.955, 4: 386.314 }[semitones] ?? 0;
    expect(beats.wideCents).toBeCloseTo(100 * semitones - 7.5 - pure, 2);
  });

  test("are not told of reeds that were not measured, and pairs lie within the mouth's reach", () => {
    const pairs = reedPairs(harp("C"));
    expect(pairBeats(pairs[0] as (typeof pairs)[0], reedResults(measured({}))).measured).toBeNull();
    expect(pairs.length).toBeGreaterThan(20);
    expect(pairs.every(({ lowHole, highHole }) => Math.abs(highHole - lowHole) <= 4)).toBe(true);
    expect(pairs[0]?.semitones).toBe(12);
    expect(pairOf(harp("C"), "blow", 1, 1)).toBeNull();
    // [F1] 1 draw D4 and 5 draw F5 are a minor tenth: 6/5 an octave up; 2 and 5 draw, G4 and F5, a seventh: no pure ratio.
    expect(pairOf(harp("C"), "draw", 1, 5)?.ratio).toEqual({ over: 12, under: 5 });
    expect(pairOf(harp("C"), "draw", 2, 5)).toBeNull();
  });
});
