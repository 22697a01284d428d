import fc from "fast-check";
import munkres from "munkres";
import { describe, expect, test } from "vitest";
import type { Harp } from "../../../core/instrument/harp.ts";
import { type Breath, type Layout, layoutFromRows, reedsOf } from "../../../core/instrument/layout.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { degreeOf, degreeSetOf } from "../../../core/pitch/degrees.ts";
import { MODE_NAMES, type ModeName } from "../../../core/pitch/modes.ts";
import { keyName, midiOfName, pitchClass } from "../../../core/pitch/note-names.ts";
import { midi } from "../../../core/units.ts";
import { type CoverPoint, coverLine } from "../../../core/workshop/design/cover-design.ts";
import {
  changesBetween,
  FIRST_LIMITS,
  HOLE_ORDERS,
  type Limits,
} from "../../../core/workshop/design/limits.ts";
import { assignedLayout } from "../../../core/workshop/design/plain-assignment.ts";
import { type DesignWish, type WantedScale, wantedNotes } from "../../../core/workshop/design/wish.ts";
import { wishFaults } from "../../../core/workshop/design/wish-faults.ts";
import { inKey } from "../../support/any-layout.ts";
import { brokenLimits } from "../../support/broken-limits.ts";
import { everyLayoutThatPlays, triadsOn } from "../../support/brute-design.ts";

const scale = (homeName: string, mode: ModeName, low: string, high: string): WantedScale => ({
  homeName,
  home: pitchClass(midiOfName(`${homeName}4`) ?? 0),
  mode,
  low: midiOfName(low) ?? midi(0),
  high: midiOfName(high) ?? midi(0),
});
const G_MAJOR = scale("G", "major", "D4", "B6");
const wishFor = (harp: Harp, scales: readonly WantedScale[], limits: Partial<Limits> = {}): DesignWish => ({
  harp,
  scales,
  limits: { ...FIRST_LIMITS, ...limits },
  chordsCount: false,
  mustHave: [],
});
const STOCK_C = inKey(STANDARD_LAYOUT, "C");
const pointsOf = (wish: DesignWish, most = 1): readonly CoverPoint[] => {
  expect(wishFaults(wish)).toEqual([]);
  const line = runToEnd(coverLine(wish, { most }));
  if (line.kind === "too many ways") throw new Error("too many ways");
  return line.kind === "line" ? line.points : [];
};

describe("G major from D4 to B6 on a stock C harp, every note on a reed of its own", () => {
  // [P] a stock harp retuned in seven reeds; [calc] assignment of 20 notes to 20 reeds for 4 and 6 semitones.
  test.each([
    [2, 7],
    [3, 7],
    [4, 6],
    [6, 5],
  ])("with reeds that may move %i semitones at least %i are changed", (mostSemitones, changed) => {
    const [first] = pointsOf(wishFor(STOCK_C, [G_MAJOR], { mostSemitones }));
    expect(first?.changed).toBe(changed);
  });

  test("with a semitone there is no such layout", () => {
    expect(pointsOf(wishFor(STOCK_C, [G_MAJOR], { mostSemitones: 1 }))).toEqual([]);
  });

  test("where chords count, the first of seven changes has I, ii, iii, IV, vi and two V on three neighbours", () => {
    const [point] = pointsOf({ ...wishFor(STOCK_C, [G_MAJOR]), chordsCount: true }, 5);
    const [first, ...others] = point?.layouts ?? [];
    if (first === undefined) throw new Error("no layout");
    expect(changesBetween(STANDARD_LAYOUT, first)).toHaveLength(7);
    // [calc] semitones above C: G B D, A C E, B D F#, C E G, E G B, D F# A. [P] which of them such a harp has.
    const [i, ii, iii, iv, vi, v] = [
      [7, 11, 2],
      [9, 0, 4],
      [11, 2, 6],
      [0, 4, 7],
      [4, 7, 11],
      [2, 6, 9],
    ].map((triad) => triadsOn(first, [triad]).places);
    expect(Math.min(...[i, ii, iii, iv, vi].map((places) => places ?? 0))).toBeGreaterThanOrEqual(1);
    expect(v).toBeGreaterThanOrEqual(2);
    const all = [
      [7, 11, 2],
      [9, 0, 4],
      [11, 2, 6],
      [0, 4, 7],
      [4, 7, 11],
      [2, 6, 9],
    ];
    for (const other of others) expect(triadsOn(other, all).different).toBeLessThan(6);
  });
});

describe("against an assignment solved by another program", () => {
  // [X] munkres 2.0.4: a reed changed costs 1000, a semitone moved 1, so fewest changes come first, then least moved.
  const NEVER = 1e7;
  function assigned(notes: readonly number[], layout: Layout, mostSemitones: number) {
    const reeds = reedsOf(layout).map((reed) => Number(reed.sounds));
    const cost = (note: number, reed: number) => {
      const by = Math.abs(note - reed);
      return by > mostSemitones ? NEVER : by === 0 ? 0 : 1000 + by;
    };
    if (notes.length > reeds.length) return null;
    const pairs = munkres(notes.map((note) => reeds.map((reed) => cost(note, reed))));
    const total = pairs.reduce((sum, [note, reed]) => sum + cost(notes[note] ?? 0, reeds[reed] ?? 0), 0);
    return total >= NEVER ? null : { changed: Math.floor(total / 1000), moved: total % 1000 };
  }

  test("every layout of the catalogue, modes, keys and ranges give the same fewest changes and least way", () => {
    let possible = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...STOCK_LAYOUTS),
        fc.constantFrom("G", "C", "F#"),
        fc.constantFrom(...MODE_NAMES),
        fc.nat(11),
        fc.nat(14),
        fc.integer({ min: 5, max: 36 }),
        fc.integer({ min: 0, max: 4 }),
        (layout, key, mode, home, above, wide, mostSemitones) => {
          const harp = inKey(layout, key);
          const low = midi(harp.keyNote + above);
          const wanted = { homeName: keyName(home), home, mode, low, high: midi(low + wide) };
          const wish = wishFor(harp, [wanted], { mostSemitones });
          if (wishFaults(wish).length > 0) return;
          const expected = assigned(wantedNotes(wish), layout, mostSemitones);
          const [first] = pointsOf(wish);
          if (expected !== null) possible++;
          expect(first === undefined ? null : { changed: first.changed, moved: first.moved }).toEqual(
            expected,
          );
        },
      ),
      { seed: 8, numRuns: 150 },
    );
    expect(possible).toBeGreaterThan(30);
  });
});

describe("by assignment alone, where there are too many ways to go through", () => {
  test("the same fewest changes and least way as by going through all, and a layout that has them", () => {
    let possible = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...STOCK_LAYOUTS),
        fc.constantFrom<ModeName>("major", "dorian", "minor"),
        fc.nat(11),
        fc.integer({ min: 8, max: 24 }),
        fc.integer({ min: 1, max: 3 }),
        fc.option(fc.integer({ min: 2, max: 9 })),
        (layout, mode, home, wide, mostSemitones, mostChanged) => {
          const harp = inKey(layout, "C");
          const range = { low: midi(62), high: midi(62 + wide) };
          const limits = {
            mostSemitones,
            mostChanged,
            reeds: [{ hole: 3, breath: "blow" as const, up: 1, down: 0 }],
          };
          const wish = wishFor(harp, [{ homeName: keyName(home), home, mode, ...range }], limits);
          const notes = wantedNotes(wish);
          if (wishFaults(wish).length > 0 || notes.length > reedsOf(layout).length) return;
          const [first] = pointsOf(wish);
          const found = assignedLayout(layout, wish.limits, notes);
          expect(found === null ? null : { changed: found.changed, moved: found.moved }).toEqual(
            first === undefined ? null : { changed: first.changed, moved: first.moved },
          );
          if (found === null) return;
          possible++;
          expect(brokenLimits(layout, found.layout, wish.limits)).toEqual([]);
          const sounding = reedsOf(found.layout).map((reed) => Number(reed.sounds));
          expect(sounding).toEqual(expect.arrayContaining([...notes]));
        },
      ),
      { seed: 21, numRuns: 80 },
    );
    expect(possible).toBeGreaterThan(15);
  });

  test("every note of an octave and a fifth on a diminished harp, reeds free to move an octave", () => {
    const layout = STOCK_LAYOUTS.find(({ id }) => id === "diminished") ?? STANDARD_LAYOUT;
    const chromatic = degreeSetOf(Array.from({ length: 12 }, (_, above) => degreeOf(above)));
    const wanted = { homeName: "C", home: 0, mode: chromatic, low: midi(60), high: midi(79) };
    const limits = { mostSemitones: 12 };
    const wish = wishFor(inKey(layout, "C"), [wanted], limits);
    const [first] = pointsOf(wish);
    if (first === undefined) throw new Error("no layout");
    expect(first.ways).toBeNull();
    expect(brokenLimits(layout, first.layouts[0] ?? layout, { ...FIRST_LIMITS, ...limits })).toEqual([]);
    // [calc] of the 20 notes C4 to G5 the harp has 13, as every third one from C#4 on is missing: 7 changes at least.
    expect(first.changed).toBeGreaterThanOrEqual(7);
    expect(pointsOf({ ...wish, limits: { ...wish.limits, mostChanged: first.changed - 1 } })).toEqual([]);
  });
});

/** Small harps with anything a wish can ask, within what can be tried one by one. */
const smallWish: fc.Arbitrary<DesignWish> = fc
  .record({
    rows: fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 9 })), {
      minLength: 2,
      maxLength: 3,
    }),
    most: fc.constantFrom(1, 2),
    orders: fc.array(fc.constantFrom("free" as const, "free" as const, ...HOLE_ORDERS), {
      minLength: 3,
      maxLength: 3,
    }),
    stays: fc.array(fc.tuple(fc.nat(2), fc.constantFrom<Breath>("blow", "draw"), fc.nat(2)), {
      maxLength: 1,
    }),
    bent: fc.boolean(),
    chord: fc.option(fc.constantFrom<Breath>("blow", "draw")),
    mostChanged: fc.option(fc.integer({ min: 0, max: 6 })),
    mode: fc.constantFrom<ModeName>("major", "dorian", "minor", "minor pentatonic"),
    home: fc.nat(11),
    low: fc.integer({ min: 0, max: 6 }),
    wide: fc.integer({ min: 2, max: 8 }),
  })
  .map((one) => {
    const layout = layoutFromRows("small", "small", {
      blow: one.rows.map(([blow]) => blow + 2),
      draw: one.rows.map(([, draw]) => draw + 3),
    });
    const harp = inKey(layout, "C");
    const { holes } = layout;
    const bends = holes.flatMap(({ blow, draw }, index) => {
      const deep = Math.abs(Number(blow) - Number(draw)) - 1;
      const breath: Breath = Number(blow) > Number(draw) ? "blow" : "draw";
      return one.bent && deep > 0 ? [{ hole: index + 1, breath, bentSemitones: deep }] : [];
    });
    const low = midi(harp.keyNote + one.low);
    return {
      harp,
      scales: [
        { homeName: keyName(one.home), home: one.home, mode: one.mode, low, high: midi(low + one.wide) },
      ],
      limits: {
        mostSemitones: one.most,
        reeds: one.stays
          .filter(([hole]) => hole < holes.length)
          .map(([hole, breath, up]) => ({ hole: hole + 1, breath, up, down: 0 })),
        order: one.orders.slice(0, holes.length),
        mostChanged: one.mostChanged,
        chords: one.chord === null ? [] : [{ breath: one.chord, holes: [1, 2] }],
        bends: bends.slice(0, 1),
      },
      chordsCount: false,
      mustHave: [],
    };
  })
  .filter((wish) => wishFaults(wish).length === 0);

/** Least semitones by number of changes, those alone that beat every smaller number. */
function lineOf(tried: ReturnType<typeof everyLayoutThatPlays>) {
  const line: { changed: number; moved: number }[] = [];
  for (let changed = 0; changed <= 6; changed++) {
    const moved = Math.min(...tried.filter((one) => one.changed === changed).map((one) => one.moved));
    if (moved < (line.at(-1)?.moved ?? Number.POSITIVE_INFINITY)) line.push({ changed, moved });
  }
  return line;
}

describe("against every layout tried one by one", () => {
  test("small harps with any limits have the same line of changes and semitones, and keep what is asked", () => {
    let possible = 0;
    let constrained = 0;
    fc.assert(
      fc.property(smallWish, (wish) => {
        const all = everyLayoutThatPlays(wish, wantedNotes(wish));
        const points = pointsOf(wish, 3);
        expect(points.map(({ changed, moved }) => ({ changed, moved }))).toEqual(lineOf(all));
        for (const { layouts } of points)
          for (const layout of layouts)
            expect(brokenLimits(wish.harp.layout, layout, wish.limits)).toEqual([]);
        if (points.length > 0) possible++;
        if (points.length > 0 && wish.limits.chords.length + wish.limits.bends.length > 1) constrained++;
      }),
      { seed: 11, numRuns: 110 },
    );
    expect(possible).toBeGreaterThan(8);
    expect(constrained).toBeGreaterThan(0);
  });

  test("where chords count, no layout with as few changes has more triads, or as many on more places", () => {
    let withTriads = 0;
    fc.assert(
      fc.property(smallWish, (wish) => {
        const { home } = wish.scales[0] ?? G_MAJOR;
        const minor = wish.scales[0]?.mode === "major" ? 0 : 3;
        // [calc] I, IV, V and the three minor triads of a major scale, or of the major scale a minor third above its minor.
        if (wish.scales[0]?.mode === "dorian") return;
        const major = [0, 5, 7].map((root) => [0, 4, 7].map((step) => (home + minor + root + step) % 12));
        const minors = [2, 4, 9].map((root) => [0, 3, 7].map((step) => (home + minor + root + step) % 12));
        const triads = [...major, ...minors];
        const all = everyLayoutThatPlays(wish, wantedNotes(wish));
        const [first] = pointsOf({ ...wish, chordsCount: true });
        if (first === undefined) return;
        const best = all
          .filter((one) => one.changed === first.changed)
          .map(({ layout }) => triadsOn(layout, triads))
          .sort((one, other) => other.different - one.different || other.places - one.places)[0];
        const [layout] = first.layouts;
        expect(layout === undefined ? null : triadsOn(layout, triads)).toEqual(best);
        if ((best?.different ?? 0) > 0) withTriads++;
      }),
      { seed: 12, numRuns: 110 },
    );
    expect(withTriads).toBeGreaterThan(0);
  });

  test("a triad there must be costs no more changes than it has to", () => {
    let more = 0;
    fc.assert(
      fc.property(smallWish, (wish) => {
        const [scale] = wish.scales;
        if (scale === undefined || scale.mode === "minor pentatonic") return;
        // [calc] the triad on the home note: a major or a minor third, and a fifth.
        const isMajor = scale.mode === "major";
        const triad = [0, isMajor ? 4 : 3, 7].map((step) => (scale.home + step) % 12);
        const all = everyLayoutThatPlays(wish, wantedNotes(wish));
        const having = all.filter(({ layout }) => triadsOn(layout, [triad]).places > 0);
        const points = pointsOf({ ...wish, mustHave: [isMajor ? "I" : "i"] });
        expect(points.map(({ changed, moved }) => ({ changed, moved }))).toEqual(lineOf(having));
        if (having.length > 0 && lineOf(having)[0]?.changed !== lineOf(all)[0]?.changed) more++;
      }),
      { seed: 14, numRuns: 150 },
    );
    expect(more).toBeGreaterThan(0);
  });

  test("without order, bends and chords the number of ways is that of all layouts that move only what they must", () => {
    let several = 0;
    fc.assert(
      fc.property(smallWish, (wish) => {
        const free: DesignWish = {
          ...wish,
          limits: { ...wish.limits, order: "free", chords: [], bends: [] },
        };
        const all = everyLayoutThatPlays(free, wantedNotes(free));
        const [first] = pointsOf(free);
        const fewest = all.filter((one) => one.changed === first?.changed).length;
        expect(first?.ways ?? 0).toBe(fewest);
        if (fewest > 1) several++;
      }),
      { seed: 13, numRuns: 40 },
    );
    expect(several).toBeGreaterThan(3);
  });
});

describe("whatever the key", () => {
  test("the same wish in another key and register changes the same reeds", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("G", "A", "Eb", "F#"),
        fc.constantFrom<ModeName>("dorian", "minor", "major"),
        (key, mode) => {
          const other = inKey(STANDARD_LAYOUT, key);
          const by = other.keyNote - STOCK_C.keyNote;
          const wanted = { ...G_MAJOR, mode };
          const moved = {
            ...wanted,
            homeName: keyName(wanted.home + by),
            home: pitchClass(wanted.home + by),
            low: midi(wanted.low + by),
            high: midi(wanted.high + by),
          };
          const limits = { mostSemitones: 3 };
          const one = pointsOf(wishFor(STOCK_C, [wanted], limits), 4);
          expect(one.length).toBeGreaterThan(0);
          expect(pointsOf(wishFor(other, [moved], limits), 4)).toEqual(one);
        },
      ),
      { seed: 3, numRuns: 12 },
    );
  });

  test("several scales are all complete", () => {
    const wish = wishFor(
      STOCK_C,
      [scale("G", "major", "G4", "G6"), scale("A", "dorian", "A4", "A6"), scale("C", "major", "C5", "C6")],
      {
        mostSemitones: 3,
      },
    );
    const [first] = pointsOf(wish);
    const sounding = reedsOf(first?.layouts[0] ?? STANDARD_LAYOUT).map((reed) => Number(reed.sounds));
    // [calc] F5 of C major is 17 semitones above C4, F#5 of G major 18.
    expect(sounding).toEqual(expect.arrayContaining([...wantedNotes(wish), 17, 18]));
  });
});
