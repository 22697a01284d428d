import { describe, expect, test } from "vitest";
import { readPracticeDay } from "../../core/progress/practice-day.ts";
import { cents } from "../../core/units.ts";
import { emptyMeasurement, type KeptMeasurement } from "../../core/workshop/measure/measurement.ts";
import { beginRepair } from "../../core/workshop/retune/repair.ts";
import { retuningPlan } from "../../core/workshop/retune/retuning-plan.ts";
import type { OwnedHarp } from "../../renderer/store/harp-store.ts";
import { inKey } from "../../renderer/ui/chosen-harp.ts";
import { openRepair, withRepair } from "../../renderer/workshop/retune/repairs.ts";
import {
  beginningHarp,
  FIRST_RETUNE_VIEW,
  type RetuneView,
  retuneViewOfSettings,
  retuneViewToKeep,
  standingMeasurement,
  wantedHarp,
} from "../../renderer/workshop/retune/retune-view.ts";
import { harp } from "../support/harps.ts";

const kept = (view: RetuneView) => JSON.parse(JSON.stringify(retuneViewToKeep(view)));

describe("the view of the retuning plan", () => {
  test("outlives a visit, but for the log that was open", () => {
    const view: RetuneView = {
      ...FIRST_RETUNE_VIEW,
      ownId: "harp-1",
      other: { ...inKey(FIRST_RETUNE_VIEW.other, "D"), register: "low" },
      wanted: {
        ...inKey(FIRST_RETUNE_VIEW.wanted, "A"),
        temperament: { kind: "scheme", scheme: "just-first-position" },
      },
      wantedA4Hz: 443,
      rules: { ...FIRST_RETUNE_VIEW.rules, mostSemitones: 1, passes: 4, toleranceCents: 2 },
    };
    expect(retuneViewOfSettings(kept({ ...view, openRepairOf: "harp-1" }))).toEqual(view);
  });

  test.each([
    ["nothing", null],
    ["another kind of thing", { other: 3, wanted: "A", rules: [] }],
    ["a harp that is not made", { other: { ...harp("A"), keyNote: 45 }, wanted: { ...harp("C"), key: "H" } }],
    ["numbers out of bounds", { wantedA4Hz: 20, passes: 2, mostSemitones: 99, toleranceCents: 0, ownId: 5 }],
  ])("has its first values where %s was kept", (_, damaged) => {
    expect(retuneViewOfSettings(damaged)).toEqual(FIRST_RETUNE_VIEW);
  });

  test("begins with the player's own harp as it was measured, and with another where that is gone", () => {
    const reedOffsets = harp("G").layout.holes.map(() => ({ blow: cents(-4), draw: cents(-4) }));
    const owned: OwnedHarp = { id: "harp-1", harp: { ...harp("G"), reedOffsets }, note: "" };
    const view = { ...FIRST_RETUNE_VIEW, ownId: "harp-1" };
    expect(beginningHarp(view, [owned], 440)).toBe(owned.harp);
    expect(beginningHarp(view, [], 442)).toMatchObject({ key: "G", a4: 442 });
    expect(wantedHarp(view, 442).a4).toBe(442);
    expect(wantedHarp({ ...view, wantedA4Hz: 443 }, 442).a4).toBe(443);
  });
});

describe("which measurement stands", () => {
  const measuredOn = (id: string, at: string, outcome: "measured" | "skipped"): KeptMeasurement => {
    const empty = emptyMeasurement(harp("G"), "microphone");
    const atEpochMs = Date.parse(at);
    return {
      ...empty,
      reeds: empty.reeds.map((reed) => ({ ...reed, outcome })),
      id,
      harpId: "harp-1",
      beganAtEpochMs: atEpochMs,
      changedAtEpochMs: atEpochMs,
      zone: "UTC",
      finished: true,
      afterReedWork: false,
    };
  };
  const owned: OwnedHarp = { id: "harp-1", harp: harp("G"), note: "" };

  test("the latest in which something was measured", () => {
    const [skipped, older] = [
      measuredOn("2", "2026-11-20T12:00Z", "skipped"),
      measuredOn("1", "2026-11-10T12:00Z", "measured"),
    ];
    expect(standingMeasurement(owned, [skipped, older])).toBe(older);
    expect(standingMeasurement(owned, [skipped])).toBeNull();
    expect(standingMeasurement(owned, [])).toBeNull();
  });

  test("none that is older than the work done on the harp", () => {
    const made = retuningPlan(harp("G"), harp("G"));
    const done = readPracticeDay("2026-11-15");
    if (made.kind !== "plan" || done === null) throw new Error("there is a plan and a day");
    const worked = withRepair(owned, { ...beginRepair("repair-1", made.plan, done), doneOn: done });
    const [before, after] = [
      measuredOn("1", "2026-11-10T12:00Z", "measured"),
      measuredOn("2", "2026-11-20T12:00Z", "measured"),
    ];
    expect(standingMeasurement(worked, [before])).toBeNull();
    expect(standingMeasurement(worked, [after, before])).toBe(after);
  });
});

describe("repairs of a harp", () => {
  const day = readPracticeDay("2026-11-28");
  const made = retuningPlan(harp("G"), harp("A"));
  if (day === null || made.kind !== "plan") throw new Error("there is a day and a plan");
  const repair = beginRepair("repair-1", made.plan, day);
  const owned: OwnedHarp = { id: "harp-1", harp: harp("G"), note: "the band's" };

  test("are added once and changed in place; one done is no longer open", () => {
    const begun = withRepair(owned, repair);
    expect(openRepair(owned)).toBeNull();
    expect(openRepair(begun)).toBe(repair);
    const done = withRepair(begun, { ...repair, doneOn: day });
    expect(done.repairs).toHaveLength(1);
    expect(openRepair(done)).toBeNull();
    const again = withRepair(done, { ...repair, id: "repair-2" });
    expect(again.repairs?.map(({ id }) => id)).toEqual(["repair-1", "repair-2"]);
    expect(openRepair(again)?.id).toBe("repair-2");
  });
});
