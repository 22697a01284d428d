import { describe, expect, test } from "vitest";
import { withTemperament } from "../../../../core/instrument/harp.ts";
import { cents, dbfs, hz, midi, seconds } from "../../../../core/units.ts";
import { emptyMeasurement } from "../../../../core/workshop/measure/measurement.ts";
import { withMeasurement, withReadings } from "../../../../core/workshop/retune/measured-harp.ts";
import { harpOf, planOf, reedOf } from "./harps.ts";

const C = harpOf("standard", "C");

/** A C harp walked along, its reeds at these fractional MIDI numbers. */
function walked(pitches: Readonly<Record<string, number>>) {
  const empty = emptyMeasurement(C, "microphone");
  const reading = (pitch: number) => ({
    midi: midi(pitch),
    wanderCents: cents(0.5),
    settledSeconds: seconds(0.8),
    levelDbfs: dbfs(-20),
  });
  const reeds = empty.reeds.map((reed) => {
    const pitch = pitches[`${reed.hole} ${reed.breath}`];
    return pitch === undefined ? reed : { ...reed, readings: [reading(pitch)], outcome: "measured" as const };
  });
  return { ...empty, reeds };
}

describe("a harp as it was measured", () => {
  test("is off by what was read, a reed that has fallen far too, and nothing is known of the rest", () => {
    const harp = withMeasurement(C, walked({ "1 blow": 60.05, "4 draw": 72.7, "2 blow": 58 }));
    // [calc] C4 is 60, D5 is 74: 5 cents sharp, 130 flat; E4 64 read as 58 is another note.
    expect(harp.reedOffsets?.[0]?.blow).toBeCloseTo(5, 6);
    expect(harp.reedOffsets?.[3]?.draw).toBeCloseTo(-130, 6);
    expect(harp.reedOffsets?.[1]?.blow).toBeNull();
    expect(harp.reedOffsets?.[0]?.draw).toBeNull();
    const plan = planOf(harp, C, { unmeasured: "take as they should sound" });
    expect(reedOf(plan, "4 draw").work).toMatchObject({ kind: "swap", why: "fallen by itself" });
    expect(plan.unmeasured).toHaveLength(18);
  });

  test("counts from what the harp should sound now, not then", () => {
    const sharp = { ...C, a4: hz(442) };
    const offset = withMeasurement(sharp, walked({ "1 blow": 60 })).reedOffsets?.[0]?.blow;
    expect(offset).toBeCloseTo(-7.85, 2); // section 3 [calc]
  });

  test("stays as it is where another harp was measured", () => {
    for (const other of [harpOf("country", "C"), harpOf("standard", "D")])
      expect(withMeasurement(other, walked({ "1 blow": 60 }))).toBe(other);
  });

  test("readings against equal temperament become what each reed is off its own scheme", () => {
    const just = withTemperament(C, { kind: "scheme", scheme: "just-first-position" });
    const readings = C.layout.holes.map(() => ({ blow: cents(-10), draw: null }));
    const offsets = withReadings(just, readings).reedOffsets;
    // Section 3: a pure third lies at -13.69, the key note at 0.
    expect(offsets?.[0]?.blow).toBeCloseTo(-10, 6);
    expect(offsets?.[1]?.blow).toBeCloseTo(3.69, 2);
    expect(offsets?.[0]?.draw).toBeNull();
  });
});
