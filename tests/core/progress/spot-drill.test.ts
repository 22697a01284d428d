import { describe, expect, test } from "vitest";
import type { DrillSetting } from "../../../core/exercise/drill-spec.ts";
import { PLAIN_ONLY } from "../../../core/instrument/reed-actions.ts";
import { tab } from "../../../core/instrument/tab.ts";
import { drillForSpot } from "../../../core/progress/spots/spot-drill.ts";
import { bpm } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";

const { harp, position, mode } = exerciseOf();
const SETTING: DrillSetting = {
  harp,
  position,
  mode,
  abilities: PLAIN_ONLY,
  tempo: { bpm: bpm(120), noteValue: "1/4" },
  countInBeats: 2,
};

function made(name: string) {
  const drill = drillForSpot(name, SETTING);
  if (drill.kind === "impossible") throw new Error(drill.reason);
  return drill.exercise;
}
const tabs = (name: string) => made(name).notes.map(({ action }) => tab(action));

describe("the drill for a weak spot", () => {
  test("a pair goes back and forth, ever more to the beat", () => {
    expect(made("4 > -4").kind).toBe("breath-pair");
    expect(new Set(tabs("4 > -4"))).toEqual(new Set(["4", "-4"]));
    // [calc] eight beats each of 1, 2 and 4 notes.
    expect(tabs("4 > -4")).toHaveLength(8 + 16 + 32);
    expect(new Set(tabs("-2 > -3''"))).toEqual(new Set(["-2", "-3''"]));
  });

  test("a bend is reached and held, an overblow too", () => {
    expect(made("-3''").kind).toBe("bend");
    expect(new Set(tabs("-3''"))).toEqual(new Set(["-3''"]));
    expect(new Set(tabs("6o"))).toEqual(new Set(["6o"]));
  });

  test.each(["4", "-4", "-5", "7"])("plain %s is among its long tones", (name) => {
    expect(made(name).kind).toBe("long-tones");
    expect(tabs(name)).toContain(name);
  });

  test("a plain reed that no scale of the position reaches is played in turn with the other of its hole", () => {
    // [calc] 2nd position on the standard layout: the low octave lacks two notes, so its scales begin at 2 draw.
    expect(new Set(tabs("1"))).toEqual(new Set(["1", "-1"]));
    expect(made("1").kind).toBe("breath-pair");
  });

  test("what no harp has is said in words", () => {
    expect(drillForSpot("x", SETTING)).toEqual({ kind: "impossible", reason: "x is no reed action" });
    expect(drillForSpot("4 > ?", SETTING).kind).toBe("impossible");
    expect(drillForSpot("-5'", SETTING).kind).toBe("impossible");
  });
});
