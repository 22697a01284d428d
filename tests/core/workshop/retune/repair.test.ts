import { describe, expect, test } from "vitest";
import { withTemperament } from "../../../../core/instrument/harp.ts";
import { readPracticeDay } from "../../../../core/progress/practice-day.ts";
import { cents } from "../../../../core/units.ts";
import {
  beginRepair,
  harpOfRepair,
  nextPassOn,
  passDone,
  passNow,
  passUndone,
  planOfRepair,
  withRepairReading,
} from "../../../../core/workshop/retune/repair.ts";
import { harpOf, measured, planOf, reedOf } from "./harps.ts";

function day(text: string) {
  const read = readPracticeDay(text);
  if (read === null) throw new Error(`${text} is no day`);
  return read;
}

const FROM = harpOf("standard", "G");
const TO = harpOf("raised-third-blow", "G");
const THREE_BLOW = { hole: 3, breath: "blow" } as const;
const begun = () => beginRepair("repair-1", planOf(FROM, TO), day("2026-11-28"));

describe("a repair", () => {
  test("goes from pass to pass with its rests, over the end of a year", () => {
    let repair = beginRepair("repair-1", planOf(FROM, TO), day("2026-12-15"));
    const plan = planOfRepair(repair);
    if (plan === null) throw new Error("there is a plan");
    expect([passNow(repair), nextPassOn(repair, plan)]).toEqual([1, null]);
    repair = passDone(repair, day("2026-12-20"));
    // Two weeks after a whole tone, then one; [calc] 20 December and 14 days, 7 January and 7.
    expect([passNow(repair), nextPassOn(repair, plan)]).toEqual([2, "2027-01-03"]);
    repair = passDone(repair, day("2027-01-07"));
    expect([passNow(repair), nextPassOn(repair, plan)]).toEqual([3, "2027-01-14"]);
    repair = passDone(repair, day("2027-01-14"));
    expect([passNow(repair), nextPassOn(repair, plan)]).toEqual([null, null]);
    expect(passDone(repair, day("2027-02-01"))).toBe(repair);
  });

  test("a pass done too early is taken back with its readings", () => {
    const read = withRepairReading(begun(), "now", THREE_BLOW, cents(-18));
    const done = passDone(read, day("2026-11-28"));
    expect(done.reading[2]?.blow).toBeNull();
    expect(passUndone(done)).toEqual(read);
    expect(passUndone(begun())).toEqual(begun());
  });

  test("what is read before changes the plan, by the meter on the wanted A", () => {
    const to = harpOf("raised-third-blow", "G", "usual", 442);
    const repair = withRepairReading(
      beginRepair("repair-1", planOf(FROM, to), day("2026-11-28")),
      "before",
      THREE_BLOW,
      cents(-20),
    );
    const plan = planOfRepair(repair);
    // [calc] 20 below the note and the whole tone above it, on the same A.
    expect(plan && reedOf(plan, "3 blow").change.changeCents).toBeCloseTo(220, 6);
    expect(plan && reedOf(plan, "3 blow").change.nowCents).toBeCloseTo(-20, 6);
    // A reed not read is as it should be on its own A: 7.85 cents below [section 3].
    expect(plan && reedOf(plan, "4 blow").change.changeCents).toBeCloseTo(7.85, 2);
  });

  test("what was measured is what was read before", () => {
    const just = withTemperament(FROM, { kind: "scheme", scheme: "just-first-position" });
    const plan = planOf(measured(just, { "2 blow": -5 }), TO);
    const repair = beginRepair("repair-1", plan, day("2026-11-28"));
    // [calc] a pure third at -13.69 and five below it; tenths are written.
    expect(repair.before[1]?.blow).toBe(-18.7);
    const again = planOfRepair(repair);
    for (const { change } of plan.reeds) {
      const its = again && reedOf(again, `${change.hole} ${change.breath}`).change.changeCents;
      expect(Math.abs((its ?? Number.NaN) - change.changeCents)).toBeLessThanOrEqual(0.05 + 1e-9);
    }
  });

  test("once done the harp is the wanted one, off by what was read last", () => {
    let repair = withRepairReading(begun(), "before", { hole: 4, breath: "draw" }, cents(2));
    repair = withRepairReading(repair, "before", { hole: 5, breath: "draw" }, cents(9));
    repair = passDone(withRepairReading(repair, "now", THREE_BLOW, cents(-21)), day("2026-11-28"));
    repair = passDone(withRepairReading(repair, "now", THREE_BLOW, cents(1.5)), day("2026-12-12"));
    repair = passDone(repair, day("2026-12-19"));
    const plan = planOfRepair(repair);
    if (plan === null) throw new Error("there is a plan");
    const harp = harpOfRepair(repair, plan);
    expect(harp).toMatchObject({ layout: { id: "raised-third-blow" }, key: "G" });
    expect(harp.reedOffsets?.[2]).toEqual({ blow: 1.5, draw: null });
    // Left alone, two cents sharp; 5 draw was to be worked on and not read again: nothing is known of it.
    expect(harp.reedOffsets?.[3]?.draw).toBe(2);
    expect(harp.reedOffsets?.[4]?.draw).toBeNull();
  });

  test("without any reading it is the wanted harp and no more", () => {
    const repair = begun();
    const plan = planOfRepair(repair);
    expect(plan && harpOfRepair(repair, plan)).toEqual(TO);
  });
});
