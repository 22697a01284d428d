import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { gaussian, seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { type HeardBeats, heardBeats } from "../../../../core/workshop/measure/heard-beats.ts";
import { settledStretch } from "../../../../core/workshop/measure/settled-stretch.ts";
import { missingForFluidsynth, playRecordedHarmonica } from "../../../outside/fluidsynth.ts";
import { medianHz, praatPitch } from "../../../outside/praat.ts";
import { hasTool } from "../../../outside/tools.ts";
import { walkSound } from "../../../support/walked-harp.ts";
import { readSound } from "../../listen/corpus/wav-file.ts";
import { quantile } from "../../listen/measures/statistics.ts";
import { percent } from "./numbers.ts";

const RATE_HZ = 24_000;
const PAIRS = 60;
const RATIOS = [
  { over: 2, under: 1, semitones: 12 },
  { over: 3, under: 2, semitones: 7 },
  { over: 5, under: 4, semitones: 4 },
];

interface Told {
  readonly beats: number;
  readonly heard: HeardBeats;
}

/** Two synthetic reeds at once, by chance; then such as do not beat: what is claimed of those is false. */
export function syntheticPairs(seeds: readonly number[]): readonly string[] {
  const random = seededRandom(seeds.reduce((all, seed) => 31 * all + seed, 7));
  const told = Array.from({ length: PAIRS * seeds.length }, (_, n): Told => {
    const ratio = RATIOS[n % RATIOS.length] ?? { over: 2, under: 1, semitones: 12 };
    const low = 131 * 2 ** (3 * random());
    const beats = 0.6 + 7 * random();
    const db = -12 * random();
    return { beats, heard: sounded(ratio, low, beats, db, 25 + 15 * random(), n) };
  });
  const noise = gaussian(random);
  const none = Array.from({ length: PAIRS * seeds.length }, (_, n) => {
    const ratio = RATIOS[n % RATIOS.length] ?? { over: 2, under: 1, semitones: 12 };
    const low = 131 * 2 ** (3 * random());
    if (n % 3 === 0) return sounded(ratio, low, 0, -3, 30, n, 0.25 * random());
    if (n % 3 === 1) return sounded(ratio, low, 4, -90, 30, n, 0.25 * random());
    const samples = Float32Array.from({ length: 3.5 * RATE_HZ }, () => 0.1 * noise());
    return heardBeats(samples, RATE_HZ, { lowHz: low, highHz: (low * ratio.over) / ratio.under, ratio });
  });
  return [
    `two synthetic reeds at once, 3.5 s, beating 0.6 to 7.6 a second, 0 to 12 dB apart, ${told.length} pairs:`,
    ...linesOf(told),
    `  pure, one reed alone or noise, with a swelling breath: beats claimed of ${percent(none.filter(({ kind }) => kind === "beats").length, none.length)}`,
  ];
}

function linesOf(told: readonly Told[]): readonly string[] {
  const found = told.flatMap(({ beats, heard }) => (heard.kind === "beats" ? [{ beats, heard }] : []));
  const off = found.map(({ beats, heard }) => Math.abs(heard.perSecond - beats));
  const inside = found.filter(({ beats, heard }) => heard.from <= beats && beats <= heard.to).length;
  const wrong = off.filter((error) => error > 0.2).length;
  const unsure = told.filter(({ heard }) => heard.kind === "not sure").length;
  return [
    `  told ${percent(found.length, told.length)}, not sure ${percent(unsure, told.length)}, off by more than 0.2 a second ${percent(wrong, told.length)}`,
    `  off a second: middle ${quantile(off, 0.5).toFixed(3)}, 95 % ${quantile(off, 0.95).toFixed(3)}; within the told range ${percent(inside, found.length)}`,
  ];
}

function sounded(
  ratio: (typeof RATIOS)[number],
  low: number,
  beats: number,
  db: number,
  snrDb: number,
  seed: number,
  tremolo = 0,
): HeardBeats {
  const high = (ratio.over * low + beats) / ratio.under;
  const tone = { hz: low, seconds: 3.5, restSeconds: 0, along: { hz: high, db } };
  const samples = walkSound([tone], { rateHz: RATE_HZ, seed: seed + 1, snrDb }).map(
    (sample, i) => sample * (1 + tremolo * Math.sin((2 * Math.PI * 4.6 * i) / RATE_HZ)),
  );
  const pair = { lowHz: low * 1.0005, highHz: high * 0.9995, ratio };
  return heardBeats(settledStretch(samples, RATE_HZ), RATE_HZ, pair);
}

const SECONDS = 4;
const STEP = 5;

/** Pairs of a recorded harmonica: beats heard against those of the two pitches that Praat reads of each alone. */
export function recordedPairs(seed: number): readonly string[] {
  const missing = [...missingForFluidsynth, ...(hasTool("praat") ? [] : ["praat"])];
  if (missing.length > 0) return [`recorded pairs: not run, ${missing.join(" and ")} not installed`];
  const folder = mkdtempSync(path.join(tmpdir(), "bench-together-"));
  try {
    const random = seededRandom(seed);
    const pairs = Array.from({ length: 36 }, (_, n) => {
      const ratio = RATIOS[n % RATIOS.length] ?? { over: 2, under: 1, semitones: 12 };
      const key = 57 + Math.floor(random() * (ratio.semitones === 12 ? 24 : 28));
      // Fifths lie near pure, major thirds are brought near it: 14 cents down.
      const near = ratio.semitones === 4 ? -14 : 0;
      return { ratio, key, bendCents: near + Math.round(random() * 12 - 6) };
    });
    const notes = pairs.flatMap(({ ratio, key, bendCents }, n) => {
      const at = (place: number) => 1 + (3 * n + place) * STEP;
      const note = (place: number, one: object) => ({
        onSeconds: at(place),
        offSeconds: at(place) + SECONDS,
        ...one,
      });
      const low = { key };
      const high = { key: key + ratio.semitones, channel: 1, bendCents };
      return [note(0, low), note(1, high), note(2, low), note(2, high)] as const;
    });
    const file = playRecordedHarmonica(folder, "pairs", notes as never, 0.5);
    const { samples, sampleRateHz } = readSound(file);
    const frames = praatPitch(file);
    const told = pairs.map(({ ratio }, n): Told => {
      const at = (place: number) => 1 + (3 * n + place) * STEP;
      const hz = (place: number) => medianHz(frames, at(place) + 0.6, at(place) + SECONDS - 0.1);
      const [low, high] = [hz(0), hz(1)];
      const beats = Math.abs(ratio.over * low - ratio.under * high);
      const both = samples.subarray(
        Math.round((at(2) - 0.2) * sampleRateHz),
        Math.round((at(2) + SECONDS + 0.2) * sampleRateHz),
      );
      const pair = { lowHz: low, highHz: high, ratio };
      return { beats, heard: heardBeats(settledStretch(both, sampleRateHz), sampleRateHz, pair) };
    });
    const beating = told.filter(({ beats }) => beats >= 0.6 && beats <= 12);
    return [
      `two recorded reeds at once, 4 s, against the beats of Praat's pitches of each alone, ${beating.length} pairs of 0.6 to 12 a second:`,
      ...linesOf(beating),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
