import { describe, expect, test } from "vitest";
import { checkValue } from "../../../core/archive/record-shapes.ts";
import { readPracticeDay } from "../../../core/progress/practice-day.ts";
import { cents } from "../../../core/units.ts";
import { beginRepair, passDone, withRepairReading } from "../../../core/workshop/retune/repair.ts";
import { retuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import { harp } from "../../support/harps.ts";

const day = readPracticeDay("2026-11-28");
const made = retuningPlan(harp("G"), harp("A"));
if (day === null || made.kind !== "plan") throw new Error("there is a day and a plan");
const begun = beginRepair("repair-1", made.plan, day);
const read = withRepairReading(begun, "now", { hole: 3, breath: "blow" }, cents(-12.5));
const repair = withRepairReading(passDone(read, day), "before", { hole: 4, breath: "draw" }, cents(-130));

const trouble = (changes: object) =>
  checkValue("harp", JSON.parse(JSON.stringify({ harp: harp("G"), note: "", ...changes })))?.reason ?? null;

describe("a harp's repairs in an archive", () => {
  test("are taken as they are written, a fallen reed too; a harp may have none", () => {
    expect(trouble({ repairs: [repair, { ...repair, id: "repair-2", doneOn: day }] })).toBeNull();
    expect(trouble({})).toBeNull();
  });

  test.each([
    [{ begunOn: "2026-02-30" }, /^value\.repairs\[0\]\.begunOn: /],
    [{ passes: [{ on: "yesterday", read: repair.before }] }, /^value\.repairs\[0\]\.passes\[0\]\.on: /],
    [{ before: [{ blow: -301, draw: null }] }, /^value\.repairs\[0\]\.before\[0\]\.blow: /],
    [{ rules: { ...repair.rules, passes: 1 } }, /^value\.repairs\[0\]\.rules\.passes: /],
    [{ to: { ...harp("A"), key: "H" } }, /^value\.repairs\[0\]\.to\.key: /],
    [{ doneOn: undefined }, /^value\.repairs\[0\]\.doneOn: /],
  ])("damaged as by %j they are a fault that names the place", (changes, reason) => {
    expect(trouble({ repairs: [{ ...repair, ...changes }] })).toMatch(reason);
  });
});
