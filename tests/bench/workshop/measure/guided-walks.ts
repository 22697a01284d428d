import { seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { type Harp, harpInKey, KEYS_BY_REGISTER } from "../../../../core/instrument/harp.ts";
import { STANDARD_LAYOUT } from "../../../../core/instrument/stock-layouts.ts";
import { knownReeds } from "../../../../core/score/known-reeds.ts";
import { agreedReading } from "../../../../core/workshop/measure/agreement.ts";
import { plainAction, targetMidiOf } from "../../../../core/workshop/measure/harp-sounds.ts";
import { emptyMeasurement } from "../../../../core/workshop/measure/measurement.ts";
import type { ReedPlace } from "../../../../core/workshop/measure/reed-reading.ts";
import {
  hearNote,
  type ReedWalk,
  reedNow,
  settleReed,
  walkOf,
} from "../../../../core/workshop/measure/walk.ts";
import { NoteTeller } from "../../../../renderer/audio/note-teller.ts";
import type { Recipe } from "../../listen/corpus/recipes.ts";
import { syntheticTake } from "../../listen/corpus/synthetic-take.ts";
import { SAMPLE_RATE_HZ } from "../../listen/corpus/truth.ts";
import { quantile } from "../../listen/measures/statistics.ts";

const PLAIN: Recipe = {
  name: "walk",
  group: "walk",
  seed: 0,
  notes: [],
  snrDb: 40,
  noise: "white",
  detuneCents: 0,
  attackSeconds: null,
  breathDb: -45,
  scoopCents: 0,
  vibratoCents: 0,
  tremolo: false,
  leakDb: null,
  leakAll: false,
  rt60Seconds: null,
  lowPassHz: null,
  humDb: null,
};

/** What the player's room and breath do. */
const CONDITIONS: readonly (readonly [string, Partial<Recipe>])[] = [
  ["a quiet room", {}],
  ["a kitchen, 0.4 s", { rt60Seconds: 0.4 }],
  ["a laptop's microphone, hum, 20 dB", { lowPassHz: 3000, humDb: -20, snrDb: 20 }],
  ["attacks 60 cents low", { scoopCents: 60 }],
  ["a breath that swells", { tremolo: true }],
  ["pink noise, 20 dB", { noise: "pink", snrDb: 20 }],
];

const MOST_TRIES = 10;
/** So often the player slips: another reed of the breath, or two at once. */
const SLIP_SHARE = 0.08;
/** [calc] -6 dB: the second hole half as strong. */
const ALONG = 0.5;
const BLOCK = 512;

interface Tally {
  reeds: number;
  given: number;
  notes: number;
  wrong: number;
  readonly errors: number[];
}

/** Whole guided walks: a simulated player answers what the walk asks for, slips now and then, and is heard as the window hears. */
export function guidedWalks(seeds: readonly number[]): readonly string[] {
  return [
    `guided walks along standard harps, heard as the window hears, ${Math.round(100 * SLIP_SHARE)} % neighbours and as many double holes among the notes:`,
    ...CONDITIONS.map(([words, changes]) => {
      const tally: Tally = { reeds: 0, given: 0, notes: 0, wrong: 0, errors: [] };
      for (const seed of seeds) walkOnce(seed, changes, tally);
      const { reeds, given, notes, wrong, errors } = tally;
      return `  ${words}: ${given} of ${reeds} reeds measured in ${(notes / reeds).toFixed(1)} notes each, ${wrong} slips counted; off in cents 95 % ${quantile(errors, 0.95).toFixed(3)}, largest ${Math.max(...errors).toFixed(3)}`;
    }),
  ];
}

function walkOnce(seed: number, changes: Partial<Recipe>, tally: Tally): void {
  const random = seededRandom(seed);
  const key = KEYS_BY_REGISTER[Math.floor(random() * KEYS_BY_REGISTER.length)] ?? "C";
  const harp = harpInKey(STANDARD_LAYOUT, key);
  if (harp === null) throw new Error("a stock key");
  const own = new Map(
    emptyMeasurement(harp, "microphone").reeds.map((reed) => [nameOf(reed), 24 * random() - 12]),
  );
  const midiOf = (place: ReedPlace) => targetMidiOf(harp, place) + (own.get(nameOf(place)) ?? 0) / 100;
  const ear = new Ear(harp);
  let walk = walkOf(emptyMeasurement(harp, "microphone"));
  for (let reed = reedNow(walk); reed !== null; reed = reedNow(walk)) {
    const asked = nameOf(reed);
    tally.reeds++;
    for (let tries = 0; tries < MOST_TRIES && nameNow(walk) === asked; tries++) {
      tally.notes++;
      const slip = random();
      const other = slip < SLIP_SHARE ? beside(harp, reed) : null;
      const along = slip > 1 - SLIP_SHARE ? beside(harp, reed) : null;
      const recipe = { ...PLAIN, ...changes, seed: Math.floor(random() * 1e6) };
      const seconds = 0.7 + 0.4 * random();
      const one = soundOf(recipe, midiOf(other ?? reed), seconds);
      const both =
        along === null ? null : soundOf({ ...recipe, seed: recipe.seed + 1 }, midiOf(along), seconds);
      const before = readingsOf(walk);
      walk = ear.hears(walk, both === null ? one : one.map((value, i) => value + ALONG * (both[i] ?? 0)));
      if ((other !== null || along !== null) && readingsOf(walk) > before) tally.wrong++;
    }
    if (nameNow(walk) === asked) walk = settleReed(walk, "skipped", ear.seconds);
  }
  for (const reed of walk.measurement.reeds) {
    const agreed = reed.outcome === "measured" ? agreedReading(reed.readings) : null;
    if (agreed === null) continue;
    tally.given++;
    tally.errors.push(100 * Math.abs(agreed.midi - midiOf(reed)));
  }
}

const nameOf = ({ hole, breath }: ReedPlace) => `${hole} ${breath}`;
const nameNow = (walk: ReedWalk) => {
  const reed = reedNow(walk);
  return reed === null ? "" : nameOf(reed);
};
const readingsOf = ({ measurement }: ReedWalk) =>
  measurement.reeds.reduce((sum, { readings }) => sum + readings.length, 0);

/** The next hole of the same breath, unless it sounds the same note. */
function beside(harp: Harp, reed: ReedPlace): ReedPlace {
  const hole = reed.hole === harp.layout.holes.length ? reed.hole - 1 : reed.hole + 1;
  return { hole, breath: plainAction(reed).breath };
}

/** One note, half a second of room before it and more than half after it. */
function soundOf(recipe: Recipe, midi: number, seconds: number): Float32Array {
  const take = syntheticTake({ ...recipe, notes: [{ on: 0.5, off: 0.5 + seconds, midi }] });
  return Float32Array.from(take.samples.subarray(0, Math.round((1.2 + seconds) * SAMPLE_RATE_HZ)));
}

class Ear {
  seconds = 0;
  private readonly teller: NoteTeller;
  private frame = 0;

  constructor(harp: Harp) {
    this.teller = new NoteTeller(SAMPLE_RATE_HZ, knownReeds(harp));
  }

  hears(walk: ReedWalk, samples: Float32Array): ReedWalk {
    let now = walk;
    for (let at = 0; at + BLOCK <= samples.length; at += BLOCK) {
      for (const { note, nowSeconds } of this.teller.take({
        frame: this.frame,
        samples: samples.subarray(at, at + BLOCK),
      }))
        now = hearNote(now, note, nowSeconds);
      this.frame += BLOCK;
      this.seconds = this.frame / SAMPLE_RATE_HZ;
    }
    return now;
  }
}
