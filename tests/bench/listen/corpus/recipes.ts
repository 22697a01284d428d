import { seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { everySemitone, melody, type WrittenNote } from "./melody.ts";

/** What a take is made of. Levels in dB are against the sustained tone. */
export interface Recipe {
  readonly name: string;
  readonly group: string;
  readonly seed: number;
  readonly notes: readonly WrittenNote[];
  /** Tone over noise, both in the full band of 24 kHz. */
  readonly snrDb: number;
  readonly noise: "white" | "pink";
  /** Every note is off by up to this. */
  readonly detuneCents: number;
  /** Null: 15 to 40 ms, by chance. */
  readonly attackSeconds: number | null;
  /** Breath noise while a note sounds; null for none. */
  readonly breathDb: number | null;
  /** How flat a note starts. */
  readonly scoopCents: number;
  readonly vibratoCents: number;
  /** Swells at 5 Hz. */
  readonly tremolo: boolean;
  /** Level of the second reed in half of the notes, or in all; null for none. */
  readonly leakDb: number | null;
  readonly leakAll: boolean;
  /** Reverberation time; null for a dry room. */
  readonly rt60Seconds: number | null;
  /** Edge of a laptop microphone's band; null for none. */
  readonly lowPassHz: number | null;
  readonly humDb: number | null;
}

type Changes = Partial<Recipe>;

const PLAIN = {
  noise: "white",
  detuneCents: 20,
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
} as const;

const STEADY = { detuneCents: 30, attackSeconds: 0.015, breathDb: null } as const;
const TEMPI = [
  { tag: "mel250", noteSeconds: 0.25, count: 100 },
  { tag: "reel125", noteSeconds: 0.125, count: 160 },
] as const;
const NOISES = ["white", "pink"] as const;
const SNRS_DB = [40, 20, 10] as const;

/** Every melody take but those in noise, each once a tempo. */
const KINDS: readonly (readonly [string, Changes])[] = [
  ["scoop", { scoopCents: 60 }],
  ["leak12", { leakDb: -12, leakAll: true }],
  ["leak20", { leakDb: -20, leakAll: true }],
  ["laptop", { lowPassHz: 3000, humDb: -20, snrDb: 20 }],
  ["reverb", { rt60Seconds: 0.4 }],
  ["leakmix12", { leakDb: -12 }],
  ["leakmix20", { leakDb: -20 }],
];

/**
 * All synthetic takes of a seed. Each take has a seed of its own, counted on from the first, so that a take is the same
 * whether the others are made or not.
 */
export function recipes(firstSeed: number): Recipe[] {
  let seed = firstSeed;
  const made: Recipe[] = [];
  const add = (name: string, notes: readonly WrittenNote[], changes: Changes, group?: string) =>
    made.push({
      ...PLAIN,
      snrDb: 40,
      name,
      group: group ?? name.replaceAll("_", " "),
      notes,
      seed: seed++,
      ...changes,
    });
  const walk = (noteSeconds: number, count: number, lowest = 48, highest = 98) =>
    melody(seededRandom(seed++), { lowest, highest, count, noteSeconds });

  for (const [snrDb, noise] of [
    [40, "white"],
    [20, "white"],
    [10, "white"],
    [20, "pink"],
    [10, "pink"],
  ] as const) {
    const group = `steady500 ${noise} ${snrDb}`;
    add(`steady500_${noise}${snrDb}`, everySemitone(0.5, 0.1), { ...STEADY, snrDb, noise }, group);
  }
  for (const snrDb of SNRS_DB) {
    const of = { ...STEADY, snrDb };
    add(`steady250_white${snrDb}`, everySemitone(0.25, 0.06), of, `steady250 white ${snrDb}`);
    add(`steady125_white${snrDb}`, everySemitone(0.125, 0.04), of, `steady125 white ${snrDb}`);
  }
  for (const { tag, noteSeconds, count } of TEMPI) {
    for (const noise of NOISES) {
      for (const snrDb of SNRS_DB) {
        const group = `${tag} ${noise} ${snrDb}`;
        add(`${tag}_${noise}${snrDb}`, walk(noteSeconds, count), { snrDb, noise }, group);
      }
    }
    for (const [kind, changes] of KINDS) add(`${tag}_${kind}`, walk(noteSeconds, count), changes);
  }
  // The two long takes share the melody's source of chance, and so do the two for timing.
  const long = seededRandom(seed++);
  const slow = { lowest: 48, highest: 98, count: 40, noteSeconds: 0.6 };
  const steady = { detuneCents: 0 };
  add("long_vib20", melody(long, slow), { ...steady, vibratoCents: 20 }, "long vibrato20");
  add("long_trem", melody(long, slow), { ...steady, tremolo: true }, "long tremolo");
  const timed = seededRandom(seed++);
  const reel = { lowest: 55, highest: 96, noteSeconds: 0.125 };
  const timing = { snrDb: 30, noise: "pink", detuneCents: 15 } as const;
  add("take60", melody(timed, { ...reel, count: 440 }), timing, "throughput");
  add("take1", melody(timed, { ...reel, count: 2 }), timing, "throughput");
  for (const { tag, noteSeconds, count } of TEMPI) {
    for (const leakDb of [-12, -20]) {
      add(`${tag}_leakmix${-leakDb}_snr20`, walk(noteSeconds, count), { snrDb: 20, leakDb });
    }
  }
  for (const { tag, noteSeconds, count } of TEMPI) {
    const room = { snrDb: 30, noise: "pink", leakDb: -12, rt60Seconds: 0.4 } as const;
    add(`${tag}_leakmix12_reverb`, walk(noteSeconds, count), room);
  }
  return made;
}

/** Takes that are there to be timed, not measured. */
export const isForTiming = (name: string) => name === "take60" || name === "take1";
