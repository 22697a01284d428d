import { describe, expect, test } from "vitest";
import { withTemperament } from "../../../../core/instrument/harp.ts";
import { benchSheet } from "../../../../core/workshop/retune/bench-sheet.ts";
import { inKey } from "../../../support/any-layout.ts";
import { harpOf, measured, planOf, small } from "./harps.ts";

describe("the sheet for the bench", () => {
  test("has every reed once, those to work on first and in order, the rest hole by hole", () => {
    const plan = planOf(harpOf("standard", "C"), harpOf("raised-third-blow-with-raised-fourths", "C"));
    const { rows, passes, title } = benchSheet(plan);
    expect(title).toBe("Retuning: C harp to C harp, raised 3-blow with raised 4ths");
    expect(rows.slice(0, 4).map(({ order, reed }) => [order, reed])).toEqual([
      [1, "5 draw"],
      [2, "9 draw"],
      [3, "3 blow"],
      [null, "1 blow"],
    ]);
    expect(new Set(rows.map(({ reed }) => reed)).size).toBe(20);
    expect(rows[2]).toMatchObject({
      noteNow: "G4",
      noteWanted: "A4",
      change: "+200",
      aims: ["-20", "-7", "0"],
    });
    expect(rows[2]?.readingNow).toBeNull();
    expect(passes.map(({ rest }) => rest)).toEqual(["rest two weeks", "rest a week", ""]);
  });

  test("names notes as the layout asks for them", () => {
    const minor = benchSheet(planOf(harpOf("standard", "C"), harpOf("natural-minor-second-position", "C")));
    // Section 1 [F 4]: Eb and Bb, not D# and A#.
    expect(new Set(minor.rows.map(({ noteWanted }) => noteWanted.replace(/\d/, "")))).toEqual(
      new Set(["C", "D", "Eb", "F", "G", "A", "Bb"]),
    );
    const raised = benchSheet(planOf(harpOf("standard", "C"), harpOf("country", "C")));
    expect(raised.rows[0]?.noteWanted).toBe("F#5"); // section 1 [F 1]
  });

  test("says what is read already, on the meter it is to be read with", () => {
    const from = measured(harpOf("standard", "G"), { "4 draw": -9 });
    const { rows, lines } = benchSheet(planOf(from, harpOf("standard", "G", "usual", 442)));
    // [calc] 9 below and 7.85 for the other A.
    expect(rows.find(({ reed }) => reed === "4 draw")?.readingNow).toBe("-17");
    expect(lines[1]).toMatch(/^Meter on A 442 Hz; temperament wanted: equal\./);
  });

  test("tells reeds to swap together by the harp they come from, and a fallen one apart", () => {
    const from = measured(harpOf("standard", "G"), { "4 draw": -130 });
    const { first } = benchSheet(planOf(from, harpOf("circular-from-the-key", "Bb")));
    // [calc] A Bb harp is the G harp three semitones up: where the circular layout has the standard reeds, it has them.
    expect(first[0]).toMatch(
      /^Swap 1 blow, 1 draw, 2 blow, .*: from the same place on: Bb harp, nothing to tune\.$/,
    );
    expect(first[1]).toMatch(/^Replace 4 draw: from the same place on: /);
    expect(first).toHaveLength(2);
  });

  test("tells valves, reeds no longer wanted and reeds not read", () => {
    const valved = small([0, 4, 7], [2, 7, 11]);
    const [hole, ...others] = valved.holes;
    if (hole === undefined) throw new Error("it has holes");
    const wanted = {
      ...valved,
      holes: [
        { ...hole, valved: ["draw" as const] },
        ...others.slice(0, 1),
        { blow: null, draw: others[1]?.draw ?? null },
      ],
    };
    const from = measured(inKey(valved, "C"), { "2 blow": null });
    const plan = planOf(from, inKey(wanted, "C"), { unmeasured: "take as they should sound" });
    expect(benchSheet(plan).first).toEqual([
      "3 blow: no reed is wanted here; block the slot.",
      "Put a valve on 1 draw.",
      "Not read before, taken as they should sound: 2 blow.",
    ]);
  });

  test("has its cautions whatever the plan, and explains only the words it uses", () => {
    const nothing = benchSheet(planOf(harpOf("standard", "G"), harpOf("standard", "G")));
    for (const words of [
      /eye protection/,
      /no leaded solder/,
      /sharp tools/,
      /qualified repairer/,
      /Local rules/,
    ])
      expect(nothing.caution).toMatch(words);
    expect(nothing.advice.join(" ")).toMatch(/do not blow them.*Clean the harp and your hands.*20 to 33 °C/);
    expect([nothing.means, nothing.passes]).toEqual([[], []]);
    const just = withTemperament(harpOf("standard", "G"), { kind: "scheme", scheme: "just-first-position" });
    const { means } = benchSheet(planOf(harpOf("standard", "G"), just));
    expect(means.map((line) => line.split(":")[0])).toEqual([
      "raise, at the tip",
      "lower, at the base",
      "lower, mass at the tip",
    ]);
  });
});
