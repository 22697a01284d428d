import { decibels } from "../decibels.ts";
import { RealFft } from "../real-fft.ts";

/** A tone in the spectrum of a stroke. */
export interface SpectralPeak {
  readonly hz: number;
  /** Power, dB; only differences count. */
  readonly levelDb: number;
}

/** What a stroke's spectrum shows. */
export interface StrokeSpectrum {
  /** By frequency; those that stand out of the noise and of what stronger tones smear. */
  readonly peaks: readonly SpectralPeak[];
  /** One over the length of the window: what lies closer than twice this is one peak. */
  readonly resolutionHz: number;
  readonly strongestDb: number;
  /** Noise at a frequency, dB, as a peak would show it. */
  readonly noiseDb: (hz: number) => number;
}

const LOWEST_HZ = 90;
/** Above this the harmonics of three reeds stand too close to each other to say anything. */
const HIGHEST_HZ = 8000;
const LEAST_PADDING = 2;
const BAND_HZ = 500;
/** [calc] The lower quartile of exponential noise is -ln(0.75) = 0.288 of its mean: -5.4 dB. */
const QUARTILE_DB = -5.4;
/** [calc] The largest of a thousand such bins is about ln 1000 = 6.9 times the mean: 8.4 dB. */
const ABOVE_NOISE_DB = 9;
/**
 * What a tone smears around itself, in dB below it, from so many resolutions away: side lobes of the Hann window (-31 dB at
 * 2.4, then 18 dB an octave), and the unsteadiness of a breath, which keeps a skirt of its own.
 */
const SMEARS: readonly { readonly from: number; readonly db: number }[] = [
  { from: 0, db: 0 },
  { from: 1.2, db: 14 },
  { from: 2, db: 27 },
  { from: 4, db: 38 },
  { from: 12, db: 48 },
  { from: 40, db: 58 },
];

const transforms = new Map<number, RealFft>();

/** Spectrum of the steady part of a stroke. @param samples at least 64 */
export function strokeSpectrum(samples: Float64Array, rateHz: number): StrokeSpectrum {
  const count = samples.length;
  let size = 1024;
  while (size < LEAST_PADDING * count) size *= 2;
  const fft = transforms.get(size) ?? new RealFft(size);
  transforms.set(size, fft);
  const windowed = new Float64Array(size);
  for (let i = 0; i < count; i++)
    windowed[i] = ((samples[i] ?? 0) * (1 - Math.cos((2 * Math.PI * (i + 0.5)) / count)) * 2) / count;
  const power = new Float64Array(size / 2 + 1);
  fft.power(windowed, power);
  const hzPerBin = rateHz / size;
  const noise = noiseOf(power, hzPerBin);
  const noiseDb = (hz: number) => noise[Math.min(noise.length - 1, Math.floor(hz / BAND_HZ))] ?? -200;
  const all = maxima(power, hzPerBin);
  const resolutionHz = rateHz / count;
  const peaks = standingOut(
    all.filter(({ hz, levelDb }) => levelDb > noiseDb(hz) + ABOVE_NOISE_DB),
    resolutionHz,
  );
  return {
    peaks,
    resolutionHz,
    strongestDb: Math.max(-200, ...peaks.map(({ levelDb }) => levelDb)),
    noiseDb: (hz) => noiseDb(hz) + ABOVE_NOISE_DB,
  };
}

/** Mean noise of each band. */
function noiseOf(power: Float64Array, hzPerBin: number): readonly number[] {
  const bands = Math.ceil(HIGHEST_HZ / BAND_HZ) + 1;
  return Array.from({ length: bands }, (_, band) => {
    const from = Math.max(1, Math.floor((band * BAND_HZ) / hzPerBin));
    const to = Math.min(power.length, Math.floor(((band + 1) * BAND_HZ) / hzPerBin));
    const sorted = power.slice(from, Math.max(from + 1, to)).sort();
    return decibels(sorted[Math.floor(sorted.length / 4)] ?? 0) - QUARTILE_DB;
  });
}

/** Every local maximum, placed by the parabola through its logarithms. */
function maxima(power: Float64Array, hzPerBin: number): readonly SpectralPeak[] {
  const found: SpectralPeak[] = [];
  const last = Math.min(power.length - 2, Math.floor(HIGHEST_HZ / hzPerBin));
  for (let k = Math.max(1, Math.ceil(LOWEST_HZ / hzPerBin)); k <= last; k++) {
    const here = power[k] as number;
    const below = power[k - 1] as number;
    const above = power[k + 1] as number;
    if (!(here > below && here >= above && here > 0)) continue;
    const [a, b, c] = [Math.log(below + 1e-30), Math.log(here), Math.log(above + 1e-30)];
    const shift = a - 2 * b + c < 0 ? (0.5 * (a - c)) / (a - 2 * b + c) : 0;
    found.push({ hz: (k + shift) * hzPerBin, levelDb: decibels(here) });
  }
  return found;
}

/** Maxima that no stronger one explains by its smear. */
function standingOut(all: readonly SpectralPeak[], resolutionHz: number): readonly SpectralPeak[] {
  return all.filter((peak) =>
    all.every((other) => {
      if (other.levelDb <= peak.levelDb) return true;
      const away = Math.abs(other.hz - peak.hz) / resolutionHz;
      return peak.levelDb > other.levelDb - smearDb(away);
    }),
  );
}

function smearDb(away: number): number {
  const upper = SMEARS.findIndex(({ from }) => from > away);
  const last = SMEARS.at(-1);
  if (upper < 0) return last?.db ?? 0;
  const [a, b] = [SMEARS[upper - 1], SMEARS[upper]];
  if (a === undefined || b === undefined) return 0;
  return a.db + ((b.db - a.db) * (away - a.from)) / (b.from - a.from);
}
