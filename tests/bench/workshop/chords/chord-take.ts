import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { gaussian, type Random, seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { playRecordedHarmonica } from "../../../outside/fluidsynth.ts";
import { expressionFor, type MidiNote } from "../../../outside/midi-bytes.ts";
import { readSound } from "../../listen/corpus/wav-file.ts";
import { type Breath, harpTable, reedOf } from "../../marks/harp-table.ts";
import { HIGHEST_KEY, LOWEST_KEY } from "./font-reeds.ts";

/** A chord as it was played. */
export interface PlayedChord {
  readonly breath: Breath;
  readonly holes: readonly number[];
  /** Keys, equal-tempered MIDI numbers. */
  readonly notes: readonly number[];
  readonly onSeconds: number;
  readonly offSeconds: number;
}

export interface ChordTake {
  readonly layoutId: string;
  readonly keyNote: number;
  readonly sampleRateHz: number;
  readonly samples: Float32Array;
  readonly played: readonly PlayedChord[];
}

export interface TakeWishes {
  readonly seed: number;
  readonly layoutId: string;
  readonly keyNote: number;
  readonly soundFont: string;
  readonly tuning: (key: number) => number;
  /** Numbers of neighbouring holes. */
  readonly sizes: readonly number[];
}

/**
 * From one stroke to the next, seconds: jig quaver at dotted crotchet 124, polka quaver at crotchet 132, reel crotchet at
 * minim 112, hornpipe crotchet at minim 90, polka crotchet, reel minim. [calc] from the table of dances, [F 42] [F 43].
 */
const STEPS = [60 / 124 / 3, 60 / 132 / 2, 60 / 112 / 2, 60 / 90 / 2, 60 / 132, 60 / 112];
/** How much of it sounds: detached to joined. Common practice. */
const LEAST_SOUNDING = 0.65;
const GAP_SECONDS = 0.008;
/** The same chord sounds again only after the tongue or the breath has stopped it. */
const REPEAT_GAP_SECONDS = 0.035;
const REPEATED_SHARE = 0.25;
const SHORTEST_SECONDS = 0.1;
/** The mouth covers holes unevenly, and reeds differ. */
const MOST_SOFTER_DB = 8;
/** A harp is off by this much reed by reed, and under breath as a whole, cents. */
const REED_SPREAD_CENTS = 4;
const BREATH_CENTS = [-12, 3] as const;
const GAIN = 0.8;
const LEAD_SECONDS = 0.6;
/** Peak of a take, dBFS. */
const PEAKS = [-30, -3] as const;

/** Every chord of so many neighbouring holes on both breaths, in an order of chance, in strokes of dance backing. */
export function chordTake(wishes: TakeWishes): ChordTake {
  const random = seededRandom(wishes.seed);
  const chords = shuffled(chordsOf(wishes), random).flatMap((chord) =>
    random() < REPEATED_SHARE ? [chord, chord] : [chord],
  );
  const notes: MidiNote[] = [];
  const played: PlayedChord[] = [];
  const breathCents = BREATH_CENTS[0] + (BREATH_CENTS[1] - BREATH_CENTS[0]) * random();
  const spread = gaussian(random);
  const reedCents = new Map<string, number>();
  let at = LEAD_SECONDS;
  for (const [place, chord] of chords.entries()) {
    const step = STEPS[Math.floor(random() * STEPS.length)] ?? 0.3;
    const share = LEAST_SOUNDING + (1 - LEAST_SOUNDING) * random();
    const gap = chords[place + 1] === chord ? REPEAT_GAP_SECONDS : GAP_SECONDS;
    const off = at + Math.max(SHORTEST_SECONDS, Math.min(step * share, step - gap));
    played.push({ ...chord, onSeconds: at, offSeconds: off });
    for (const [reedPlace, key] of chord.notes.entries()) {
      const reed = `${chord.breath} ${chord.holes[reedPlace]}`;
      const own = reedCents.get(reed) ?? REED_SPREAD_CENTS * spread();
      reedCents.set(reed, own);
      notes.push({
        onSeconds: at,
        offSeconds: off,
        key,
        channel: channelOf(notes.length),
        bendCents: Math.round(own + breathCents - wishes.tuning(key)),
        expression: expressionFor(-MOST_SOFTER_DB * random()),
      });
    }
    at += step;
  }
  const { samples, sampleRateHz } = sounded(notes, wishes.soundFont);
  const peakDb = PEAKS[0] + (PEAKS[1] - PEAKS[0]) * random();
  return {
    layoutId: wishes.layoutId,
    keyNote: wishes.keyNote,
    sampleRateHz,
    samples: scaled(samples, peakDb),
    played,
  };
}

/** All but the channel General MIDI keeps for drums. */
const channelOf = (count: number) => {
  const channel = count % 15;
  return channel < 9 ? channel : channel + 1;
};

type Chord = Pick<PlayedChord, "breath" | "holes" | "notes">;

function chordsOf({ layoutId, keyNote, sizes }: TakeWishes): readonly Chord[] {
  const table = harpTable(layoutId);
  const chords: Chord[] = [];
  for (const breath of ["blow", "draw"] as const) {
    for (const size of sizes) {
      for (let low = 1; low + size - 1 <= table[breath].length; low++) {
        const holes = Array.from({ length: size }, (_, more) => low + more);
        const notes = holes.map((hole) => keyNote + (reedOf(table, hole, breath) ?? Number.NaN));
        if (notes.every((note) => note >= LOWEST_KEY && note <= HIGHEST_KEY))
          chords.push({ breath, holes, notes });
      }
    }
  }
  return chords;
}

function sounded(notes: readonly MidiNote[], soundFont: string) {
  const folder = mkdtempSync(path.join(tmpdir(), "bench-chords-"));
  try {
    return readSound(playRecordedHarmonica(folder, "take", notes, GAIN, soundFont));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function scaled(samples: Float32Array, peakDb: number): Float32Array {
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 1e-9);
  return samples.map((x) => (x * 10 ** (peakDb / 20)) / peak);
}

/** The same take with white noise over the whole band, so far below the mean power of what sounds. */
export function withNoise(take: ChordTake, snrDb: number, seed: number): ChordTake {
  const { samples, played, sampleRateHz: rate } = take;
  let [sum, count] = [0, 0];
  for (const { onSeconds, offSeconds } of played) {
    for (let i = Math.round(onSeconds * rate); i < Math.round(offSeconds * rate); i++) {
      sum += (samples[i] ?? 0) ** 2;
      count++;
    }
  }
  const rms = Math.sqrt(sum / Math.max(1, count)) * 10 ** (-snrDb / 20);
  const noise = gaussian(seededRandom(seed));
  return { ...take, samples: samples.map((x) => x + rms * noise()) };
}

function shuffled<T>(items: readonly T[], random: Random): readonly T[] {
  const left = [...items];
  const drawn: T[] = [];
  while (left.length > 0) drawn.push(...left.splice(Math.floor(random() * left.length), 1));
  return drawn;
}
