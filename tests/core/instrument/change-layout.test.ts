import { describe, expect, test } from "vitest";
import {
  addHole,
  changePositionKey,
  changeReed,
  changeValve,
  idOfName,
  removeHole,
  renameLayout,
} from "../../../core/instrument/change-layout.ts";
import { type Layout, sameReeds } from "../../../core/instrument/layout.ts";
import { readLayout, writeLayout } from "../../../core/instrument/layout-json.ts";
import { reedActions } from "../../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { semitones } from "../../../core/units.ts";

/** What a player does in the editor: holes added, then every reed set. */
function rebuilt(target: Layout): Layout {
  let layout = renameLayout(STANDARD_LAYOUT, "standard, changed");
  while (layout.holes.length < target.holes.length) layout = addHole(layout);
  while (layout.holes.length > target.holes.length) layout = removeHole(layout);
  for (const [index, hole] of target.holes.entries()) {
    layout = changeReed(layout, index + 1, "blow", hole.blow);
    layout = changeReed(layout, index + 1, "draw", hole.draw);
  }
  return renameLayout(layout, "rebuilt");
}

describe("changing a layout", () => {
  test.each(STOCK_LAYOUTS)("$id can be made from the stock layout, saved and read back", (target) => {
    const mine = rebuilt(target);
    expect(sameReeds(mine, target)).toBe(true);
    const read = readLayout(writeLayout(mine));
    expect(read.kind === "layout" && read.layout).toEqual(mine);
  });

  test("leaves the layout it began with alone", () => {
    const before = structuredClone(STANDARD_LAYOUT);
    changeReed(STANDARD_LAYOUT, 3, "blow", semitones(9));
    changeValve(STANDARD_LAYOUT, 3, "blow", true);
    expect(STANDARD_LAYOUT).toEqual(before);
  });

  test("any name makes a short one", () => {
    expect(idOfName("My G tuning!")).toBe("my-g-tuning");
    expect(idOfName("Für Anna")).toBe("fur-anna");
    expect(idOfName("口琴")).toBe("layout");
  });

  test("a valve put on and taken off leaves no trace", () => {
    const valved = changeValve(STANDARD_LAYOUT, 4, "blow", true);
    expect(valved.holes[3]?.valved).toEqual(["blow"]);
    expect(sameReeds(valved, STANDARD_LAYOUT)).toBe(false);
    expect(changeValve(valved, 4, "blow", false)).toEqual(STANDARD_LAYOUT);
  });

  test("a reed taken out takes its valve along", () => {
    const valved = changeValve(STANDARD_LAYOUT, 4, "blow", true);
    expect(changeReed(valved, 4, "blow", null).holes[3]).toEqual({ blow: null, draw: 14 });
  });

  test("positions can be counted from another note, and from the key again", () => {
    const counted = changePositionKey(STANDARD_LAYOUT, semitones(7));
    expect(counted.positionKey).toBe(7);
    expect(changePositionKey(counted, semitones(0))).toEqual(STANDARD_LAYOUT);
  });

  test("a hole or note that is not there is a broken promise", () => {
    expect(() => changeReed(STANDARD_LAYOUT, 11, "blow", null)).toThrow("hole 11");
    expect(() => changeReed(STANDARD_LAYOUT, 1, "draw", semitones(61))).toThrow("hole 1, draw");
    const one = changeReed({ ...STANDARD_LAYOUT, holes: STANDARD_LAYOUT.holes.slice(0, 1) }, 1, "draw", null);
    expect(() => changeReed(one, 1, "blow", null)).toThrow("last reed");
  });

  test("holes stop at sixteen and at one", () => {
    let layout = STANDARD_LAYOUT;
    for (let n = 0; n < 20; n++) layout = addHole(layout);
    expect(layout.holes).toHaveLength(16);
    for (let n = 0; n < 20; n++) layout = removeHole(layout);
    expect(layout.holes).toHaveLength(1);
  });
});

describe("what a player can do, hole by hole", () => {
  const techniques = (bends: boolean | number[], overbends: boolean | number[], layout = STANDARD_LAYOUT) =>
    reedActions(layout, { bends, overbends })
      .filter((one) => one.action.technique !== "plain")
      .map((one) => `${one.action.hole} ${one.action.technique}`);

  test("bends and overblows can be switched on for named holes alone", () => {
    // [calc] hole 4: d = 2, one bend; holes 6 and 7: an overblow and an overdraw.
    expect(techniques([4], [6, 7])).toEqual(["4 bend", "6 overblow", "7 overdraw"]);
    expect(techniques(false, false)).toEqual([]);
    expect(techniques([], [])).toEqual([]);
  });

  test("a valved blow reed keeps the overblow out of its hole and leaves the draw bend in", () => {
    // Fact sheet, section 2: for a valved reed the two-reed rule does not apply [F 8, F 9].
    expect(techniques([4], [4])).toEqual(["4 bend", "4 overblow"]);
    expect(techniques([4], [4], changeValve(STANDARD_LAYOUT, 4, "blow", true))).toEqual(["4 bend"]);
    expect(techniques([4], [4], changeValve(STANDARD_LAYOUT, 4, "draw", true))).toEqual(["4 overblow"]);
  });
});
