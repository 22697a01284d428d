import { describe, expect, test } from "vitest";
import { readPracticeDay } from "../../../../core/progress/practice-day.ts";
import { cents, dbfs, midi, seconds } from "../../../../core/units.ts";
import { driftInWords, driftOf } from "../../../../core/workshop/measure/drift.ts";
import { targetMidiOf } from "../../../../core/workshop/measure/harp-sounds.ts";
import type { KeptMeasurement, MeasuredReed } from "../../../../core/workshop/measure/measurement.ts";
import { workedOnSince } from "../../../../core/workshop/measure/same-harp.ts";
import type { Repair } from "../../../../core/workshop/retune/repair.ts";
import { USUAL_RULES } from "../../../../core/workshop/retune/retuning-plan.ts";
import { measurementValue } from "../../../support/archives.ts";
import { harp } from "../../../support/harps.ts";

const day = (text: string) => {
  const read = readPracticeDay(text);
  if (read === null) throw new Error(`${text} is no day`);
  return read;
};

type OffCents = (name: string) => number | null;

/** Reeds that lie off by so much, three notes within half a cent each; null was not measured. */
function measured(day: number, off: OffCents, changes: Partial<KeptMeasurement> = {}): KeptMeasurement {
  const value = measurementValue(changes);
  const reeds = value.reeds.map(({ hole, breath }): MeasuredReed => {
    const own = off(`${hole} ${breath}`);
    if (own === null) return { hole, breath, readings: [], outcome: null };
    const reading = (more: number) => ({
      midi: midi(targetMidiOf(harp("G"), { hole, breath }) + (own + more) / 100),
      wanderCents: cents(0.4),
      settledSeconds: seconds(0.8),
      levelDbfs: dbfs(-20),
    });
    return { hole, breath, readings: [-0.25, 0, 0.25].map(reading), outcome: "measured" };
  });
  return { ...value, id: `day ${day}`, beganAtEpochMs: day * 86_400_000, reeds };
}

const still: OffCents = () => 3;

describe("the drift of a harp's reeds", () => {
  test("of one measurement, or none, is not there", () => {
    expect(driftOf([])).toBeNull();
    expect(driftOf([measured(1, still)])).toBeNull();
  });

  test("is told for each reed without what the whole harp does", () => {
    // [calc] a cold harp 4 cents up as a whole, 6 draw 9 cents down: by itself 13 down.
    const drift = driftOf([measured(9, (name) => (name === "6 draw" ? 3 - 9 : 3 + 4)), measured(1, still)]);
    expect(drift?.commonCents).toBeCloseTo(4, 6);
    const own = (name: string) => drift?.reeds.find(({ hole, breath }) => `${hole} ${breath}` === name);
    expect(own("6 draw")?.ownCents).toBeCloseTo(-13, 6);
    expect(own("6 draw")).toMatchObject({ clear: true, failing: false });
    expect(own("1 blow")?.ownCents).toBeCloseTo(0, 6);
    expect(own("1 blow")).toMatchObject({ clear: false, failing: false });
    expect(driftInWords(drift as NonNullable<typeof drift>)).toContain(
      "Moved by themselves: 6 draw −13.0 cents.",
    );
  });

  test("a reed that has fallen a semitone by itself is failing, to be replaced and not tuned", () => {
    // [F27] a reed that has fallen a semitone or more by itself is fatigued: replace, do not tune.
    const drift = driftOf([measured(1, still), measured(60, (name) => (name === "4 draw" ? 3 - 104 : 3))]);
    expect(drift?.reeds.filter(({ failing }) => failing)).toMatchObject([{ hole: 4, breath: "draw" }]);
    expect(driftInWords(drift as NonNullable<typeof drift>)[0]).toMatch(
      /^4 draw has fallen 104 cents by itself: it is failing\. Replace it, do not tune it\.$/,
    );
  });

  test("a walk left half way says nothing against what it did not reach", () => {
    const half: OffCents = (name) =>
      name.startsWith("1 ") || name.startsWith("2 ") || name === "3 blow" ? 3 : null;
    const fallen: OffCents = (name) => (name === "4 draw" ? -97 : 3);
    const drift = driftOf([measured(1, still), measured(30, fallen), measured(40, half)]);
    expect(drift?.measurements).toBe(3);
    expect(drift?.reeds.filter(({ failing }) => failing)).toMatchObject([{ hole: 4, breath: "draw" }]);
    expect(drift?.reeds).toHaveLength(20);
  });

  test("begins anew when the reeds were worked on", () => {
    const tuned: OffCents = (name) => (name === "3 blow" ? 190 : 0);
    const run = [measured(1, still), measured(20, tuned, { afterReedWork: true })];
    expect(driftOf(run)).toBeNull();
    expect(driftOf([...run, measured(30, tuned)])?.reeds.every(({ clear }) => !clear)).toBe(true);
  });

  test("begins anew with another layout, whether or not anybody said so", () => {
    const other = {
      ...harp("G"),
      layout: { ...harp("G").layout, holes: harp("G").layout.holes.slice(0, 9) },
    };
    const before = { ...measured(1, still), harp: other };
    expect(driftOf([before, measured(20, still)])).toBeNull();
    expect(driftOf([before, measured(20, still), measured(30, still)])?.measurements).toBe(2);
  });

  test("work in the log of retunings counts from the day of the measurement on", () => {
    const harpNow = harp("G");
    const repair = (on: string): Repair => ({
      id: "r",
      from: harpNow,
      to: harpNow,
      rules: USUAL_RULES,
      begunOn: day("2026-09-01"),
      before: [],
      passes: [{ on: day(on), read: [] }],
      reading: [],
      doneOn: null,
    });
    // [calc] 1790000000 s is 21 September 2026, 15:13 in Dublin.
    const since = measured(0, still, { beganAtEpochMs: 1_790_000_000_000 });
    const at = { ...since, beganAtEpochMs: 1_790_000_000_000 };
    expect(workedOnSince([repair("2026-09-20")], at)).toBe(false);
    expect(workedOnSince([repair("2026-09-21")], at)).toBe(true);
    expect(workedOnSince([], at)).toBe(false);
  });

  test("a few cents of breath are no clear change", () => {
    const drift = driftOf([measured(1, still), measured(2, (name) => (name === "5 blow" ? 5.9 : 3))]);
    expect(drift?.reeds.every(({ clear }) => !clear)).toBe(true);
  });
});
