import fc from "fast-check";
import { BACKING_STROKES } from "../../../core/exercise/backing-strokes.ts";
import type { DrillSpec } from "../../../core/exercise/drill-spec.ts";
import { NOTES_PER_BEAT } from "../../../core/exercise/rhythm.ts";
import { type Harp, harpInKey, KEYS_BY_REGISTER, withTemperament } from "../../../core/instrument/harp.ts";
import { HIGHEST_REED, type Layout, layoutFromRows } from "../../../core/instrument/layout.ts";
import {
  type Abilities,
  EVERYTHING,
  type InHoles,
  type ReedAction,
  type Technique,
} from "../../../core/instrument/reed-actions.ts";
import { STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import type { Temperament } from "../../../core/instrument/temperament.ts";
import { degreeSetOf } from "../../../core/pitch/degrees.ts";
import { degreeOf, MODE_NAMES, type Mode, modeDegrees, readMode } from "../../../core/pitch/modes.ts";
import { NOTE_VALUES } from "../../../core/tune/tempo.ts";
import { bpm, cents, semitones } from "../../../core/units.ts";

/** Layouts of 4 to 16 holes nobody sells: rows that mostly rise, any interval in a hole, a reed missing here and there. */
const homeMade: fc.Arbitrary<Layout> = fc
  .array(
    fc.record({
      step: fc.integer({ min: 0, max: 5 }),
      gap: fc.integer({ min: -6, max: 8 }),
      without: fc.constantFrom("none", "none", "none", "none", "none", "none", "blow", "draw"),
    }),
    { minLength: 4, maxLength: 16 },
  )
  .map((holes) => {
    let at = 0;
    const rows: { blow: number | null; draw: number | null }[] = [];
    for (const { step, gap, without } of holes) {
      if (at > HIGHEST_REED - 8) break;
      rows.push({ blow: without === "blow" ? null : at, draw: without === "draw" ? null : at + gap });
      at += step;
    }
    return layoutFromRows("home-made", "home-made", {
      blow: rows.map((row) => row.blow),
      draw: rows.map((row) => row.draw),
    });
  });

/** The catalogue's layouts stand beside them, for on most home-made ones few drills can be played at all. */
const anyLayout: fc.Arbitrary<Layout> = fc.oneof(homeMade, fc.constantFrom(...STOCK_LAYOUTS));

function harpOf(layout: Layout, key: string): Harp {
  const harp = harpInKey(layout, key);
  if (harp === null) throw new Error(`"${key}" is not a key`);
  return harp;
}

/** Names as often as sets of degrees; of those many are made for chords and intervals: one form of each degree. */
const anyMode: fc.Arbitrary<Mode> = fc.oneof(
  { weight: 2, arbitrary: fc.constantFrom<Mode>(...MODE_NAMES) },
  {
    weight: 1,
    arbitrary: fc
      .uniqueArray(fc.integer({ min: 0, max: 11 }), { minLength: 1, maxLength: 12 })
      .map((steps) => {
        const degrees = steps.map((step) => degreeOf(step)).sort((a, b) => a.aboveHome - b.aboveHome);
        return degreeSetOf(degrees);
      }),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(
        fc.constantFrom("2", "b2"),
        fc.constantFrom("3", "b3"),
        fc.constantFrom("4", "#4"),
        fc.constantFrom("5", "b5", "#5"),
        fc.constantFrom("6", "b6", "bb7"),
        fc.constantFrom("7", "b7"),
      )
      .map((names) => readMode(["1", ...names].join(" ")))
      .filter((read) => read.kind === "mode")
      .map((read) => read.mode),
  },
);

const inHoles: fc.Arbitrary<InHoles> = fc.oneof(
  fc.boolean(),
  fc.uniqueArray(fc.integer({ min: 1, max: 16 }), { minLength: 1, maxLength: 6 }),
);
const anyAbilities: fc.Arbitrary<Abilities> = fc.oneof(
  fc.record({ bends: inHoles, overbends: inHoles }),
  fc.constant(EVERYTHING),
);

const setting = fc
  .record({
    layout: anyLayout,
    key: fc.constantFrom(...KEYS_BY_REGISTER),
    temperament: fc.constantFrom<Temperament>(
      { kind: "equal" },
      { kind: "scheme", scheme: "just-sevenths" },
      { kind: "scheme", scheme: "just-first-position", stretchCentsPerOctave: cents(2) },
    ),
    position: fc.integer({ min: 1, max: 12 }),
    mode: anyMode,
    abilities: anyAbilities,
    bpm: fc.oneof(fc.integer({ min: 30, max: 240 }), fc.integer({ min: 30, max: 100 })),
    noteValue: fc.constantFrom(...NOTE_VALUES),
    countInBeats: fc.integer({ min: 0, max: 8 }),
  })
  .map(({ layout, key, temperament, bpm: beats, noteValue, ...rest }) => ({
    ...rest,
    harp: withTemperament(harpOf(layout, key), temperament),
    tempo: { bpm: bpm(beats), noteValue },
  }));

const running = fc.record(
  {
    notesPerBeat: fc.constantFrom(...NOTES_PER_BEAT),
    rhythm: fc.oneof(
      fc.constant({ kind: "even" as const }),
      fc.constant({ kind: "dotted" as const }),
      fc.double({ min: 1, max: 4, noNaN: true }).map((ratio) => ({ kind: "swung" as const, ratio })),
    ),
    accents: fc.constantFrom("none" as const, "bars" as const, "beats" as const, "off-beats" as const),
  },
  { requiredKeys: ["notesPerBeat"] },
);
const start = fc.constantFrom("easiest" as const, "lowest" as const);
const octaves = fc.constantFrom(1 as const, 2 as const, "plain range" as const);
const direction = fc.constantFrom("up" as const, "down" as const, "both" as const);
const repeats = fc.integer({ min: 1, max: 4 });
const degreeNames = [
  ...new Set(MODE_NAMES.flatMap((mode) => modeDegrees(mode).map((degree) => degree.name))),
];
const degree = fc.constantFrom("1", "1", "1", ...degreeNames);
const range = fc.record({ octaves, start, fromDegree: degree }, { requiredKeys: ["octaves", "start"] });
const seed = fc.integer({ min: 0, max: 2 ** 32 - 1 });
const quarters = (low: number, high: number) => fc.integer({ min: 4 * low, max: 4 * high }).map((n) => n / 4);

const anyAction: fc.Arbitrary<ReedAction> = fc.record({
  hole: fc.integer({ min: 1, max: 16 }),
  breath: fc.constantFrom("blow" as const, "draw" as const),
  technique: fc.constantFrom<Technique>("plain", "plain", "plain", "bend", "overblow"),
  bentSemitones: fc.constantFrom(0, 0, 0, 1).map(semitones),
});

const NUMERALS = [
  "I",
  "i",
  "ii",
  "II",
  "iii",
  "III",
  "IV",
  "iv",
  "V",
  "v",
  "V7",
  "vi",
  "VI",
  "VII",
  "vii",
  "bVII",
];

const choices = {
  scale: fc.record({ direction }),
  arpeggio: fc.record({
    degree,
    size: fc.constantFrom("triad" as const, "seventh" as const),
    octaves,
    start,
    direction,
  }),
  progression: fc.record({
    numerals: fc.oneof(
      fc.constantFrom("I-IV-V-I", "ii-V-I", "i-VII-VI-VII", "i-iv-v-i", "I-bVII-I", "ii7 V7 I7"),
      fc.array(fc.constantFrom(...NUMERALS), { minLength: 1, maxLength: 4 }).map((all) => all.join("-")),
    ),
    figure: fc.constantFrom("up" as const, "up-and-back" as const),
    start,
    repeats,
  }),
  backing: fc.record({
    chords: fc.oneof(
      fc.constantFrom("I-IV-V-I", "i-VII-VI-VII", "I:1 IV:1 V7:2", "I-bVII-I", "i"),
      fc.array(fc.constantFrom(...NUMERALS), { minLength: 1, maxLength: 4 }).map((all) => all.join("-")),
    ),
    strokes: fc.constantFrom(...BACKING_STROKES),
    mostHoles: fc.constantFrom(2, 3, 4),
    partial: fc.boolean(),
    repeats,
  }),
  pattern: fc.record({
    figure: fc.constantFrom(
      ...([
        "thirds",
        "fourths",
        "sixths",
        "octaves",
        "turns",
        "1-2-3-1",
        "1-2-3-5",
        "threes",
        "fours",
      ] as const),
    ),
    direction,
  }),
  bend: fc.record(
    {
      figure: fc.constantFrom("hold" as const, "from-above" as const, "match" as const, "ladder" as const),
      technique: fc.constantFrom("bend" as const, "overblow" as const, "overdraw" as const),
      hole: fc.integer({ min: 1, max: 16 }),
      breath: fc.constantFrom("blow" as const, "draw" as const),
      bentSemitones: fc.integer({ min: 0, max: 4 }),
      holdBeats: quarters(0.5, 8),
      restBeats: quarters(0, 8),
      repeats,
      targetShown: fc.boolean(),
      seed,
    },
    { requiredKeys: ["figure", "holdBeats", "restBeats", "repeats", "targetShown", "seed"] },
  ),
  "breath-pair": fc.record({
    first: anyAction,
    second: anyAction,
    rounds: fc.subarray([...NOTES_PER_BEAT], { minLength: 1 }),
    roundBeats: fc.integer({ min: 1, max: 16 }),
  }),
  "hole-jumps": fc.record({
    jump: fc.constantFrom(1 as const, 2 as const, 3 as const, 4 as const),
    breath: fc.constantFrom("blow" as const, "draw" as const, "alternate" as const),
    direction,
    repeats,
  }),
  "one-breath": fc.record({
    breath: fc.constantFrom("blow" as const, "draw" as const, "longest" as const),
    repeats,
  }),
  "long-tones": fc.record({ direction, toneBeats: quarters(1, 16), restBeats: quarters(0, 16) }),
  "random-notes": fc.record(
    {
      count: fc.integer({ min: 1, max: 60 }),
      seed,
      targetAs: fc.constantFrom("name" as const, "degree" as const, "heard" as const),
      largestLeap: fc.integer({ min: 1, max: 8 }),
      noteBeats: quarters(0.25, 4),
      callBeats: quarters(0, 4),
    },
    { requiredKeys: ["count", "seed", "targetAs", "noteBeats", "callBeats"] },
  ),
} satisfies Record<DrillSpec["kind"], fc.Arbitrary<object>>;

const RUN: readonly DrillSpec["kind"][] = [
  "scale",
  "arpeggio",
  "progression",
  "pattern",
  "hole-jumps",
  "one-breath",
];
const RANGED: readonly DrillSpec["kind"][] = ["scale", "pattern", "long-tones", "random-notes"];

export const DRILL_KINDS = Object.keys(choices) as readonly DrillSpec["kind"][];

/** Any drill of a kind, on any harp, for any player; many of them impossible. */
export function anyDrill(kind: DrillSpec["kind"]): fc.Arbitrary<DrillSpec> {
  const nothing = fc.constant({});
  return fc
    .tuple(
      setting,
      RUN.includes(kind) ? running : nothing,
      RANGED.includes(kind) ? range : nothing,
      choices[kind],
    )
    .map(([one, two, three, four]) => ({ kind, ...one, ...two, ...three, ...four }) as unknown as DrillSpec);
}
