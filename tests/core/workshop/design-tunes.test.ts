import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { layoutFromRows } from "../../../core/instrument/layout.ts";
import { EVERYTHING, PLAIN_AND_BENDS, PLAIN_ONLY } from "../../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../../core/instrument/stock-layouts.ts";
import { breathPath } from "../../../core/path/breath-path.ts";
import { harpsToTry } from "../../../core/path/harps-to-try.ts";
import { LayoutCosts } from "../../../core/path/layout-costs.ts";
import { lineOfTune, shiftLine } from "../../../core/path/line.ts";
import { summaryOf } from "../../../core/path/line-summary.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { midi } from "../../../core/units.ts";
import { ANY_NOTE, holeChoices } from "../../../core/workshop/design/hole-choices.ts";
import { layoutOfHoles } from "../../../core/workshop/design/layout-of-holes.ts";
import { FIRST_LIMITS, type Limits } from "../../../core/workshop/design/limits.ts";
import { Efforts, LoadedLayout } from "../../../core/workshop/design/load-cost.ts";
import { missingEffort, Repertoire, type TuneSetting } from "../../../core/workshop/design/repertoire.ts";
import { type TuneLine, tuneLine } from "../../../core/workshop/design/tune-line.ts";
import { tuneLoad } from "../../../core/workshop/design/tune-load.ts";
import type { DesignWish } from "../../../core/workshop/design/wish.ts";
import { inKey } from "../../support/any-layout.ts";
import { brokenLimits } from "../../support/broken-limits.ts";
import { everyLayoutThatPlays, triadsOn } from "../../support/brute-design.ts";
import { seededTunes } from "../../support/seeded-tunes.ts";

const HARP = inKey(STANDARD_LAYOUT, "C");
const USUAL: TuneSetting = {
  harps: harpsToTry({ layouts: [STANDARD_LAYOUT] }),
  abilities: PLAIN_AND_BENDS,
  weights: FIRST_WEIGHTS,
};
const wishWith = (limits: Partial<Limits> = {}, harp = HARP): DesignWish => ({
  harp,
  scales: [],
  limits: { ...FIRST_LIMITS, ...limits },
  chordsCount: false,
  mustHave: [],
});
const weighed = (count: number, seed: number) =>
  seededTunes(count, seed).map((tune, place) => ({ tune, weight: 1 + (place % 3) }));

function found(
  wish: DesignWish,
  setting: TuneSetting,
  tunes: ReturnType<typeof weighed>,
  tries: number,
  seed = 1,
) {
  const line = runToEnd(tuneLine(wish, { tunes, setting, random: seededRandom(seed), tries }));
  if (line.kind !== "line") throw new Error(line.kind);
  return line;
}
type Line = Extract<TuneLine, { kind: "line" }>;

describe("a load on a layout", () => {
  const choices = holeChoices({
    start: STANDARD_LAYOUT,
    limits: FIRST_LIMITS,
    notes: new Set(),
    alsoWorth: ANY_NOTE,
  });
  const anyHoles = fc.tuple(...choices.map((its) => fc.constantFrom(...its)));

  test("costs what the bound of the path's cost says, for one tune on any layout", () => {
    const [tune] = seededTunes(1, 4);
    if (tune === undefined) throw new Error("no tune");
    const summary = summaryOf(lineOfTune(tune, { alike: "nothing" }), FIRST_WEIGHTS);
    fc.assert(
      fc.property(
        anyHoles,
        fc.integer({ min: 55, max: 66 }),
        fc.constantFrom(PLAIN_ONLY, PLAIN_AND_BENDS, EVERYTHING),
        (holes, keyNote, abilities) => {
          const load = tuneLoad([{ summary, weight: 1 }], [keyNote]);
          const loaded = new LoadedLayout(
            load,
            new Efforts(STANDARD_LAYOUT, abilities, FIRST_WEIGHTS),
            holes,
          );
          const costs = new LayoutCosts(layoutOfHoles(STANDARD_LAYOUT, holes), abilities, FIRST_WEIGHTS);
          const { bent, overblown, missing } = costs.shares(summary, keyNote);
          const { cost } = costs.bound(summary, keyNote);
          expect(loaded.cost.notPlain).toBe(bent + overblown + missing);
          expect(loaded.cost.missing).toBe(missing);
          expect(loaded.cost.effort).toBeCloseTo(cost + missing * missingEffort(FIRST_WEIGHTS), 6);
        },
      ),
      { seed: 1, numRuns: 60 },
    );
  });

  test("a hole tuned otherwise costs the same worked out from the change as from the beginning", () => {
    const { tunes } = runToEnd(Repertoire.of(weighed(5, 2), USUAL));
    const load = tuneLoad(tunes, [60, 62, 55, 57, 60]);
    const efforts = new Efforts(STANDARD_LAYOUT, EVERYTHING, FIRST_WEIGHTS);
    fc.assert(
      fc.property(anyHoles, anyHoles, (from, to) => {
        const walking = new LoadedLayout(load, efforts, from);
        const holes = [...from];
        for (const [hole, choice] of to.entries()) {
          holes[hole] = choice;
          const asked = walking.costWith(hole, choice);
          walking.tune(hole, choice);
          const fresh = new LoadedLayout(load, efforts, holes).cost;
          expect(walking.cost.notPlain).toBeCloseTo(fresh.notPlain, 6);
          expect(walking.cost.effort).toBeCloseTo(fresh.effort, 6);
          expect(asked).toEqual(walking.cost);
        }
      }),
      { seed: 2, numRuns: 20 },
    );
  });
});

describe("a repertoire on a layout", () => {
  test("costs what its breath paths cost, each in the key and octave told", () => {
    const tunes = weighed(4, 6);
    const repertoire = runToEnd(Repertoire.of(tunes, USUAL));
    const fit = runToEnd(repertoire.fit(STANDARD_LAYOUT));
    // [calc] the sum over the tunes of weight times path cost, by the path's own function.
    const sum = tunes.reduce((total, { tune, weight }, place) => {
      const lie = fit.lies[place];
      if (lie === undefined) throw new Error("no lie");
      const line = shiftLine(lineOfTune(tune, { alike: "nothing" }), lie.shift);
      return total + weight * breathPath(line, lie.harp, { abilities: PLAIN_AND_BENDS }).cost;
    }, 0);
    expect(fit.missing).toBe(0);
    expect(fit.effort).toBeCloseTo(sum, 6);
    expect(runToEnd(repertoire.glance(STANDARD_LAYOUT)).effort).toBeLessThanOrEqual(fit.effort + 1e-6);
  });
});

describe("the line of a repertoire", () => {
  const tunes = weighed(6, 3);
  const line = found(wishWith({ mostChanged: 4 }), USUAL, tunes, 10_000);

  test("begins with the start, and no point is beaten by another", () => {
    expect(line.points.length).toBeGreaterThan(2);
    expect(line.points[0]).toMatchObject({ changed: 0, moved: 0 });
    expect(line.points[0]?.fit.effort).toBeCloseTo(line.start.effort, 6);
    const figures = (point: Line["points"][number]) => [
      point.changed,
      point.moved,
      point.fit.notPlain,
      point.fit.missing,
      point.fit.effort,
    ];
    for (const one of line.points)
      for (const other of line.points)
        if (one !== other)
          expect(figures(one).every((figure, place) => figure <= (figures(other)[place] ?? 0))).toBe(false);
  });

  test("every further point is better than the start in what it was changed for", () => {
    for (const { fit } of line.points) expect(fit.missing).toBeLessThanOrEqual(line.start.missing);
    for (const { fit } of line.points.slice(1))
      expect(fit.notPlain < line.start.notPlain || fit.effort < line.start.effort).toBe(true);
  });

  test("is the same for the same seed", () => {
    expect(found(wishWith({ mostChanged: 4 }), USUAL, tunes, 10_000)).toEqual(line);
  });

  test("is the same in every key, when the tunes move along", () => {
    const by = 3;
    const higher = tunes.map(({ tune, weight }) => ({
      tune: { ...tune, notes: tune.notes.map((note) => ({ ...note, midi: midi(note.midi + by) })) },
      weight,
    }));
    const oneKey = (key: string): TuneSetting => ({ ...USUAL, harps: [inKey(STANDARD_LAYOUT, key)] });
    const low = found(wishWith({ mostChanged: 3 }), oneKey("C"), tunes, 4000);
    const high = found(
      wishWith({ mostChanged: 3 }, inKey(STANDARD_LAYOUT, "Eb")),
      oneKey("Eb"),
      higher,
      6000,
    );
    // [calc] Eb4 lies 3 semitones above C4, and so do the tunes.
    expect(high.points.map(({ layout }) => layout)).toEqual(low.points.map(({ layout }) => layout));
    expect(high.points.length).toBeGreaterThan(1);
  });

  test("comes to its end where an order asks for changes in every layout", () => {
    const limits = { order: "draw higher" as const, mostChanged: 8 };
    const kept = found(wishWith(limits), USUAL, tunes, 2000);
    // [calc] in holes 7 to 10 of a stock harp blow is higher by 1, 2, 2 and 3 semitones; within 2 semitones one reed turns the
    // first round, the others need both: 1 + 2 + 2 + 2.
    expect(Math.min(...kept.points.map(({ changed }) => changed))).toBeGreaterThanOrEqual(7);
    for (const { layout } of kept.points)
      expect(brokenLimits(STANDARD_LAYOUT, layout, { ...FIRST_LIMITS, ...limits })).toEqual([]);
  });

  test("keeps every limit, and scales complete", () => {
    const limits: Limits = {
      mostSemitones: 2,
      reeds: [{ hole: 4, breath: "draw", up: 0, down: 0 }],
      order: STANDARD_LAYOUT.holes.map((_, hole) => (hole < 6 ? "draw higher" : "free")),
      mostChanged: 8,
      chords: [{ breath: "blow", holes: [4, 5, 6] }],
      bends: [{ hole: 2, breath: "draw", bentSemitones: 1 }],
    };
    const scale = { homeName: "G", home: 7, mode: "major" as const, low: midi(67), high: midi(91) };
    const kept = found({ ...wishWith(limits), scales: [scale], mustHave: ["IV"] }, USUAL, tunes, 10_000);
    for (const { layout } of kept.points) {
      expect(brokenLimits(STANDARD_LAYOUT, layout, limits)).toEqual([]);
      const sounding = layout.holes.flatMap(({ blow, draw }) => [Number(blow), Number(draw)]);
      // [calc] IV of G major: C E G.
      expect(triadsOn(layout, [[0, 4, 7]]).places).toBeGreaterThan(0);
      // [calc] G4 to G6 of G major above C4: 7 9 11 12 14 16 18 19 21 23 24 26 28 30 31.
      expect(sounding).toEqual(
        expect.arrayContaining([7, 9, 11, 12, 14, 16, 18, 19, 21, 23, 24, 26, 28, 30, 31]),
      );
    }
  });
});

test("on a small harp the search finds the fewest notes not plain and the least effort of all layouts tried one by one", () => {
  for (const seed of [1, 2]) {
    const small = inKey(layoutFromRows("small", "small", { blow: [4, 9, 14], draw: [7, 11, 17] }), "C");
    const setting: TuneSetting = { ...USUAL, harps: [small] };
    const tunes = weighed(1, seed);
    const wish = wishWith({ mostSemitones: 1, mostChanged: 6 }, small);
    const repertoire = runToEnd(Repertoire.of(tunes, setting));
    const all = everyLayoutThatPlays(wish, []).map(({ layout }) => runToEnd(repertoire.fit(layout)));
    // [calc] three values for each of six reeds.
    expect(all).toHaveLength(729);
    const line = found(wish, setting, tunes, 12_000, seed);
    // No layout that leaves more notes missing than the start is offered.
    const start = runToEnd(repertoire.fit(small.layout));
    const offered = all.filter(({ missing }) => missing <= start.missing);
    const best = (figure: "notPlain" | "effort", fits: readonly { notPlain: number; effort: number }[]) =>
      Math.min(...fits.map((fit) => fit[figure]));
    const fits = line.points.map(({ fit }) => fit);
    expect(best("notPlain", fits)).toBe(best("notPlain", offered));
    expect(best("effort", fits)).toBeCloseTo(best("effort", offered), 6);
  }
});
