import { describe, expect, test } from "vitest";
import { withTemperament } from "../../../../core/instrument/harp.ts";
import { cents } from "../../../../core/units.ts";
import { inKey } from "../../../support/any-layout.ts";
import { harpOf, measured, planOf, reedOf, small } from "./harps.ts";

const names = (steps: readonly { readonly hole: number; readonly breath: string }[]) =>
  steps.map(({ hole, breath }) => `${hole} ${breath}`);

describe("passes", () => {
  const plan = planOf(harpOf("standard", "C"), harpOf("raised-third-blow-with-raised-fourths", "C"));

  test("three, with a week between, two after a whole tone", () => {
    // Section 5 [F 24]: at least three passes, about a week between, longer after large changes; twice as long is our own.
    expect(plan.passes.map(({ number, restDays }) => [number, restDays])).toEqual([
      [1, 14],
      [2, 7],
      [3, 0],
    ]);
    expect(plan.sums.days).toBe(21);
    const semitone = planOf(harpOf("standard", "C"), harpOf("country", "C"));
    expect(semitone.passes.map(({ restDays }) => restDays)).toEqual([7, 7, 0]);
  });

  test("first what is raised little, then what is raised much; octaves last in the last pass", () => {
    // [calc] 5 and 9 draw a semitone up, an octave apart on draw with three holes between; 3 blow a whole tone, A4, no octave
    // on blow within a grip: its octave is 6 draw.
    expect(plan.passes.map(({ steps }) => names(steps))).toEqual([
      ["5 draw", "9 draw", "3 blow"],
      ["5 draw", "9 draw", "3 blow"],
      ["3 blow", "5 draw", "9 draw"],
    ]);
  });

  test("a reed is left short, less each time, in the direction it comes from", () => {
    const aims = plan.passes.map(({ steps }) => steps.find(({ hole }) => hole === 3)?.aimCents ?? 0);
    // Shares of our own: [calc] a tenth of 200 cents short, a third of that, nothing.
    expect(aims[0]).toBeCloseTo(-20, 6);
    expect(aims[1]).toBeCloseTo(-20 / 3, 6);
    expect(aims[2]).toBeCloseTo(0, 6);
    const hertz = plan.passes.map(({ steps }) => steps.find(({ hole }) => hole === 3)?.aimHz ?? 0);
    expect(hertz[0]).toBeCloseTo(434.946, 2); // [calc] 440 x 2^(-20/1200)
    expect(hertz[2]).toBeCloseTo(440, 6);
  });

  test("a lowered reed is left sharp, and less so than a raised one is left flat [F 25]", () => {
    const minor = planOf(harpOf("standard", "C"), harpOf("natural-minor-second-position", "C"));
    const first = minor.passes[0]?.steps.find(({ hole, breath }) => hole === 5 && breath === "blow");
    expect(first?.aimCents).toBeCloseTo(5, 6); // a twentieth of 100 cents, our own
    expect(first?.shortCents).toBeCloseTo(5, 6);
  });

  test("aims are what a meter reads: the scheme's cents with what is still short", () => {
    const just = withTemperament(harpOf("raised-third-blow", "C"), {
      kind: "scheme",
      scheme: "just-first-position",
    });
    const steps = planOf(harpOf("standard", "C"), just).passes.at(-1)?.steps ?? [];
    // Section 3: 5/3 lies -15.64 from equal, 5/4 -13.69.
    expect(steps.find(({ hole, breath }) => hole === 3 && breath === "blow")?.aimCents).toBeCloseTo(
      -15.64,
      2,
    );
    expect(steps.find(({ hole, breath }) => hole === 2 && breath === "blow")?.aimCents).toBeCloseTo(
      -13.69,
      2,
    );
  });

  test("what is too little to be told is only read again until the last pass", () => {
    const off = planOf(measured(harpOf("standard", "C"), { "4 blow": -4 }), harpOf("standard", "C"));
    expect(off.passes.map(({ steps }) => steps.map(({ onlyCheck }) => onlyCheck))).toEqual([
      [true],
      [true],
      [false],
    ]);
  });
});

describe("the order of the work", () => {
  test("raising before lowering, small before large, low reeds last", () => {
    // On a low C harp: hole 1 C3 down a semitone (low), hole 2 C5 up two, hole 3 D5 down one, hole 4 E5 down two, hole 5 F5
    // up one, hole 6 G5 up half a semitone by its reading.
    const lone = (row: readonly number[]) =>
      small(
        row,
        row.map(() => null),
      );
    const from = measured(harpOf(lone([0, 24, 26, 28, 29, 31]), "C", "low"), { "6 blow": -50 });
    const to = harpOf(lone([-1, 26, 25, 26, 30, 31]), "C", "low");
    const plan = planOf(from, to);
    expect(names(plan.passes[0]?.steps ?? [])).toEqual([
      "6 blow",
      "5 blow",
      "3 blow",
      "2 blow",
      "4 blow",
      "1 blow",
    ]);
    expect(reedOf(plan, "1 blow").work).toEqual({ kind: "lower", mass: true });
  });
});

describe("pairs to finish by ear", () => {
  test("fifths and neighbours in which a reed was worked on, from low to high, with their beats as calculated", () => {
    const plan = planOf(harpOf("standard", "C"), harpOf("country", "C"));
    const said = plan.pairs.map(
      ({ low, high, ratio }) => `${low.hole} ${low.breath}, ${high.hole} ${high.breath}, ${ratio}`,
    );
    // [calc] 5 draw F#5: a fifth with 3 draw B4 two holes below, with 4 draw D5 a major third, with 6 draw A5 a minor third; its
    // octave F#6 is nowhere: 9 draw is F6.
    expect(said).toEqual(["3 draw, 5 draw, 3/2", "4 draw, 5 draw, 5/4", "5 draw, 6 draw, 6/5"]);
    // [calc] |3 x B4 - 2 x F#5| = |3 x 493.883 - 2 x 739.989|.
    expect(plan.pairs[0]?.beatsPerSecond).toBeCloseTo(1.67, 2);
    // [calc] |5 x D5 - 4 x F#5| = |5 x 587.330 - 4 x 739.989|.
    expect(plan.pairs[1]?.beatsPerSecond).toBeCloseTo(23.31, 2);
  });

  test("octaves and unisons come after all others", () => {
    const plan = planOf(measured(harpOf("standard", "C"), {}, 10), harpOf("standard", "C"));
    const kinds = plan.pairs.map(({ interval }) => interval % 12 === 0);
    expect(kinds.indexOf(true)).toBe(kinds.filter((same) => !same).length);
    // [calc] Blow 1-4 2-5 3-6 4-7 5-8 6-9 7-10, draw 1-4 4-8 3-7 5-9 6-10: the twelve of `chords`; and 2 draw with 3 blow.
    expect(kinds.filter((same) => same)).toHaveLength(13);
  });

  test("an octave off by 1 Hz at the upper note beats once a second [F 26]", () => {
    const harp = inKey(small([0, 12], [2, 14]), "C");
    const c5 = 440 * 2 ** (3 / 12);
    const off = cents(1200 * Math.log2((c5 + 1) / c5));
    const wanted = withTemperament(harp, {
      kind: "reeds",
      name: "one off",
      holes: [
        { blow: cents(0), draw: cents(0) },
        { blow: off, draw: cents(0) },
      ],
    });
    const octave = planOf(measured(harp, { "2 blow": -20 }), wanted).pairs.at(-1);
    expect(octave).toMatchObject({ ratio: "2/1", together: true, interval: 12 });
    expect(octave?.beatsPerSecond).toBeCloseTo(1, 6);
    // [calc] a cent on C5 is 523.25 x ln 2 / 1200 Hz.
    expect(octave?.beatsPerCent).toBeCloseTo(0.3029, 3);
  });

  test("a pure fifth and third do not beat, tempered ones do", () => {
    const equal = harpOf("standard", "C");
    const just = withTemperament(equal, { kind: "scheme", scheme: "just-first-position" });
    const beats = (to: typeof equal) =>
      planOf(measured(equal, {}, 30), to).pairs.find(
        ({ low, high }) => low.breath === "blow" && low.hole === 1 && high.hole === 2,
      )?.beatsPerSecond ?? Number.NaN;
    expect(beats(just)).toBeCloseTo(0, 6);
    expect(beats(equal)).toBeCloseTo(10.38, 2); // [calc] |5 x 261.626 - 4 x 329.628|
  });

  test("2 draw and 3 blow, the same note on two breaths, are compared one after the other [F 2]", () => {
    const plan = planOf(measured(harpOf("standard", "C"), { "2 draw": 10 }), harpOf("standard", "C"));
    expect(plan.pairs.at(-1)).toMatchObject({
      low: { hole: 2, breath: "draw" },
      high: { hole: 3, breath: "blow" },
      interval: 0,
      together: false,
      beatsPerSecond: 0,
    });
  });
});
