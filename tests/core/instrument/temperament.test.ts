import * as v from "valibot";
import { describe, expect, test } from "vitest";
import { harpShape } from "../../../core/instrument/harp-shape.ts";
import { reedActions } from "../../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT, stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { readTab } from "../../../core/instrument/tab.ts";
import { targetCents, targetHzOf } from "../../../core/instrument/target-cents.ts";
import { EQUAL, type Temperament, temperedCents } from "../../../core/instrument/temperament.ts";
import { readScala } from "../../../core/pitch/scala-scale.ts";
import { SCHEME_IDS } from "../../../core/pitch/tuning-schemes.ts";
import { cents, hz } from "../../../core/units.ts";
import { BLOW_GROUPS, DRAW_GROUPS, PRINTED_SCHEMES } from "../../sources/just-ratios.ts";
import { inKey } from "../../support/any-layout.ts";
import { harp } from "../../support/harps.ts";

function action(text: string) {
  const read = readTab(text);
  if (read === null) throw new Error(`${text} is not tab`);
  return read;
}

const tuned = (temperament: Temperament, key = "C") => ({ ...harp(key), temperament });
const target = (temperament: Temperament, text: string, home = 0) =>
  targetCents(tuned(temperament), action(text), home);

describe("a standard harp tuned by a scheme", () => {
  test.each(SCHEME_IDS)("%s has the printed cents in every hole, on every key", (scheme) => {
    const printed = PRINTED_SCHEMES[scheme];
    for (const key of ["G", "C", "F#"]) {
      const one = tuned({ kind: "scheme", scheme }, key);
      let seen = 0;
      BLOW_GROUPS.forEach((holes, group) => {
        for (const hole of holes) {
          expect(Math.round(targetCents(one, action(`${hole}`)))).toBe(printed.blow[group]);
          seen += 1;
        }
      });
      DRAW_GROUPS.forEach((holes, group) => {
        for (const hole of holes) {
          expect(Math.round(targetCents(one, action(`-${hole}`)))).toBe(printed.draw[group]);
          seen += 1;
        }
      });
      expect(seen).toBe(20);
    }
  });

  // [calc] 1200 log2 of 5/4, 3/2, 9/8, 15/8, 4/3, 5/3 less the equal-tempered interval.
  test.each([
    ["2", -13.69],
    ["3", 1.96],
    ["-1", 3.91],
    ["-3", -11.73],
    ["-5", -1.96],
    ["-6", -15.64],
    ["1", 0],
  ])("just for 1st position puts %s at %d cents", (tab, expected) => {
    expect(target({ kind: "scheme", scheme: "just-first-position" }, tab)).toBeCloseTo(expected, 2);
  });

  test("equal temperament is 0 everywhere, and what a harp without temperament has", () => {
    for (const { action: one } of reedActions(STANDARD_LAYOUT, { bends: true, overbends: true })) {
      expect(targetCents(harp("D"), one)).toBe(0);
      expect(targetCents(tuned(EQUAL), one)).toBe(0);
    }
  });
});

describe("bends", () => {
  const just: Temperament = { kind: "scheme", scheme: "just-first-position" };

  test("that sound the name of a plain reed agree with that reed, so that octaves do not beat", () => {
    expect(target(just, "-3''")).toBeCloseTo(target(just, "-6"), 9); // A4 and A5
    expect(target(just, "-2''")).toBeCloseTo(target(just, "-5"), 9); // F4 and F5
    expect(target(just, "-3''", 7)).toBeCloseTo(target(just, "-6"), 9); // whatever the home note
  });

  test("otherwise take the scheme from the home note", () => {
    // [calc] home C: b7 = 9/5, +17.60. Home G (3/2, +1.96): b3 = 6/5, +15.64, together +17.60.
    expect(target(just, "-3'", 0)).toBeCloseTo(17.6, 2);
    expect(target(just, "-3'", 7)).toBeCloseTo(17.6, 2);
    // [calc] home D (9/8, +3.91): #4 of C is its 3, 5/4: -13.69 + 3.91 = -9.78. Home C: 45/32, -9.78.
    expect(target(just, "-2'", 2)).toBeCloseTo(-9.78, 2);
    expect(target(just, "-2'", 0)).toBeCloseTo(-9.78, 2);
    // [calc] home A (5/3, -15.64): G# is its 15/8, -11.73, together -27.37; home C: 8/5, +13.69.
    expect(target(just, "-3'''", 9)).toBeCloseTo(-27.37, 2);
    expect(target(just, "-3'''", 0)).toBeCloseTo(13.69, 2);
  });

  test("overblows follow the same rule", () => {
    expect(target(just, "4o")).toBeCloseTo(15.64, 2); // [calc] Eb on C: 6/5
  });

  test("an action the harp cannot do is a broken promise", () => {
    expect(() => target(just, "-5'")).toThrow("hole 5 bend");
  });
});

describe("a player's own cents", () => {
  const holes = STANDARD_LAYOUT.holes.map((_, index) => ({
    blow: cents(index),
    draw: index === 9 ? null : cents(-index),
  }));
  const own: Temperament = { kind: "reeds", name: "my G, autumn", holes };

  test("belong to the reed, 0 where none was given", () => {
    expect(target(own, "4")).toBe(3);
    expect(target(own, "-7")).toBe(-6);
    expect(target(own, "-10")).toBe(0);
  });

  test("a bend agrees with the nearest reed of its name, the lower of two", () => {
    expect(target(own, "-3''")).toBe(target(own, "-6")); // A4: A5 is nearer than A6
    expect(target(own, "10'")).toBe(target(own, "-7")); // B6: B5 is the only one within an octave
  });

  test("a bend without such a reed counts from the home note's reed", () => {
    expect(target(own, "-3'", 7)).toBe(target(own, "-2")); // Bb4 from G, whose first reed is 2 draw
  });
});

describe("a scale from a file", () => {
  function scale(lines: readonly string[]): Temperament {
    const read = readScala(["x", lines.length, ...lines].join("\n"));
    if (read.kind === "unreadable") throw new Error(read.reason);
    return { kind: "scale", ...read.scale };
  }

  test("of twelve notes gives its n-th note to the n-th semitone", () => {
    // Quarter-comma meantone as printed in the format's own description: thirds pure, fifths 3.42 cents narrow.
    const meantone = scale(
      "76.04900 193.15686 310.26471 5/4 503.42157 579.47057 696.57843 25/16 889.73529 1006.84314 1082.89214 2/1".split(
        " ",
      ),
    );
    expect(target(meantone, "2")).toBeCloseTo(-13.69, 2);
    expect(target(meantone, "3")).toBeCloseTo(-3.42, 2);
    expect(target(meantone, "-3'")).toBeCloseTo(6.84, 2); // Bb 1006.84
    expect(target(meantone, "10")).toBe(0);
  });

  test("of seven notes gives each semitone its nearest, and leaves the others equal", () => {
    const major = scale(["9/8", "5/4", "4/3", "3/2", "5/3", "15/8", "2/1"]);
    expect(target(major, "2")).toBeCloseTo(-13.69, 2);
    expect(target(major, "-10")).toBeCloseTo(-15.64, 2);
    expect(target(major, "-3'")).toBe(0); // nothing within 50 cents of Bb
  });

  test("with a wide octave widens every octave", () => {
    const wide = scale(["3/2", "1203.0"]);
    expect(target(wide, "4")).toBeCloseTo(3, 9);
    expect(target(wide, "10")).toBeCloseTo(9, 9);
    expect(target(wide, "6")).toBeCloseTo(4.96, 2); // [calc] 1.96 + 3
  });
});

describe("pitch", () => {
  test("stretched octaves widen by so much each, from the key note", () => {
    const stretched: Temperament = { kind: "equal", stretchCentsPerOctave: cents(2) };
    expect(target(stretched, "4")).toBe(2); // one tuner's 2 cents an octave [F 19]
    expect(target(stretched, "10")).toBe(6);
    expect(temperedCents(stretched, -6)).toBe(-1);
  });

  test("target frequencies follow A4 and the temperament", () => {
    const at443 = { ...harp("A"), a4: hz(443) };
    expect(targetHzOf(at443, action("4"))).toBeCloseTo(443, 9); // an A harp's 4 blow is A4
    const just = { ...harp("C"), temperament: { kind: "scheme", scheme: "just-first-position" } as const };
    const low = targetHzOf(just, action("1"));
    expect(targetHzOf(just, action("2"))).toBeCloseTo((low * 5) / 4, 9); // [calc] a pure third
  });

  test("altered layouts take the same scheme", () => {
    const layout = stockLayout("major-seventh");
    if (layout === null) throw new Error("no such layout");
    const one = {
      ...inKey(layout, "C"),
      temperament: { kind: "scheme", scheme: "just-first-position" } as const,
    };
    expect(targetCents(one, action("-5"))).toBeCloseTo(-9.78, 2); // [calc] 45/32, a pure third above D
  });
});

describe("a harp inside a file", () => {
  const bare = { layout: STANDARD_LAYOUT, key: "C", keyNote: 60, a4: 440 };

  test("may have no temperament, and then gains none by being read", () => {
    expect(v.parse(harpShape, bare)).toEqual(bare);
  });

  test.each<unknown>([
    { kind: "equal" },
    { kind: "scheme", scheme: "just-sevenths", stretchCentsPerOctave: 2 },
    { kind: "scale", name: "x", steps: [701.955, 1200] },
    { kind: "reeds", name: "mine", holes: [{ blow: 3, draw: null }] },
  ])("keeps the temperament %j", (temperament) => {
    expect(v.parse(harpShape, { ...bare, temperament })).toEqual({ ...bare, temperament });
  });

  test.each<unknown>([
    { kind: "sour" },
    { kind: "scheme", scheme: "moon" },
    { kind: "reeds", name: "x", holes: [] },
    { kind: "reeds", name: "x", holes: [{ blow: 101, draw: 0 }] },
  ])("refuses the temperament %j", (temperament) => {
    expect(v.safeParse(harpShape, { ...bare, temperament }).success).toBe(false);
  });
});
