import type { ChordReed } from "./chord-reeds.ts";
import type { SpectralPeak, StrokeSpectrum } from "./stroke-spectrum.ts";

/** How a reed would lie in a spectrum if it sounded. */
export interface ReedFit {
  readonly reed: ChordReed;
  /** Places in the spectrum's peaks of its harmonics, the first first; null where there is no peak, -1 beyond the range. */
  readonly harmonics: readonly (number | null)[];
  /** Off its own pitch, cents. */
  readonly offCents: number;
  readonly hz: number;
}

/** Harmonics the pitch is fitted to; beyond them a little off is far off. */
const FITTED = 10;
/** Enough for the lowest reed to explain all peaks that are its own: a reed an octave above it then explains none more. */
const HARMONICS = 48;
/** A reed sounds within this of its pitch: breath lowers it by 5 to 15 cents, and no harp is tuned to the cent. */
const MOST_OFF_CENTS = 45;
const STEP_CENTS = 2;
/** A peak this near to where a harmonic should lie is that harmonic ... */
const NEAR_CENTS = 8;
/** ... or this near, in resolutions: a peak beside another is read a little off. */
const NEAR_RESOLUTIONS = 0.4;
const WEIGHT_RANGE_DB = 45;

/** Where the harmonics of a reed are, at the pitch near its own that most of them fit. */
export function fitReed(reed: ChordReed, spectrum: StrokeSpectrum): ReedFit {
  let best: { readonly sum: number; readonly cents: number } = { sum: -1, cents: 0 };
  for (let off = 0; off <= MOST_OFF_CENTS; off += STEP_CENTS) {
    for (const cents of off === 0 ? [0] : [-off, off]) {
      const sum = strengthAt(hzOf(reed, cents), spectrum);
      if (sum > best.sum + 1e-9) best = { sum, cents };
    }
  }
  const hz = hzOf(reed, best.cents);
  return {
    reed,
    hz,
    offCents: best.cents,
    harmonics: Array.from({ length: HARMONICS }, (_, h) => peakAt((h + 1) * hz, spectrum)),
  };
}

const hzOf = (reed: ChordReed, cents: number) => 440 * 2 ** ((reed.midi - 69 + cents / 100) / 12);

function strengthAt(hz: number, spectrum: StrokeSpectrum): number {
  let sum = 0;
  for (let h = 1; h <= FITTED; h++) {
    const place = peakAt(h * hz, spectrum);
    const peak = place === null ? undefined : spectrum.peaks[place];
    if (peak === undefined) continue;
    const away = Math.abs(peak.hz - h * hz) / nearHz(h * hz, spectrum);
    const level = Math.max(0, peak.levelDb - spectrum.strongestDb + WEIGHT_RANGE_DB) / WEIGHT_RANGE_DB;
    sum += level * (1 - 0.5 * away ** 2);
  }
  return sum;
}

const NEAR_SHARE = 2 ** (NEAR_CENTS / 1200) - 1;

export const nearHz = (hz: number, spectrum: StrokeSpectrum): number =>
  Math.max(hz * NEAR_SHARE, NEAR_RESOLUTIONS * spectrum.resolutionHz);

/** The strongest peak near a frequency, by its place; null where there is none. */
function peakAt(hz: number, spectrum: StrokeSpectrum): number | null {
  const { peaks } = spectrum;
  const near = nearHz(hz, spectrum);
  let best: number | null = null;
  for (let place = firstFrom(peaks, hz - near); place < peaks.length; place++) {
    const peak = peaks[place];
    if (peak === undefined || peak.hz > hz + near) break;
    if (best === null || peak.levelDb > (peaks[best]?.levelDb ?? 0)) best = place;
  }
  return best;
}

/** Place of the first peak at or above a frequency. */
export function firstFrom(peaks: readonly SpectralPeak[], hz: number): number {
  let [low, high] = [0, peaks.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((peaks[middle]?.hz ?? 0) < hz) low = middle + 1;
    else high = middle;
  }
  return low;
}
