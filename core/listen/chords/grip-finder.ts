import type { ChordReed, Grip } from "./chord-reeds.ts";
import { firstFrom, fitReed, nearHz, type ReedFit } from "./reed-fit.ts";
import type { SpectralPeak, StrokeSpectrum } from "./stroke-spectrum.ts";

/** How well a grip explains a spectrum. */
export interface WeighedGrip {
  readonly grip: Grip;
  readonly score: number;
}

/** Peaks this far below the strongest say nothing. */
const RANGE_DB = 38;
/** A peak so far above what noise may do is surely none. */
const CLEAR_DB = 10;
/** The harmonics a reed is missed by, and how much each counts: the first is where nothing else is. */
const MISSED_WEIGHTS = [1.4, 1, 0.7, 0.5] as const;
/** A harmonic should stand out if its reed is this much softer than the strongest. */
const SOFTER_DB = 22;
/** What a room keeps of a stroke has fallen by so much in the next one's settled part. */
const RINGING_DB = 10;
/** Each further reed has to explain as much. */
const REED_COST = 0.5;
/** Peaks nearer to a harmonic than this, in resolutions, hide it where they are stronger. */
const HIDES_RESOLUTIONS = 2.2;

/** Every grip with its score, the best first. */
export function weighGrips(
  grips: readonly Grip[],
  spectrum: StrokeSpectrum,
  before: StrokeSpectrum | null,
): readonly WeighedGrip[] {
  const fits = new Map<ChordReed, ReedFit>();
  for (const reed of new Set(grips.flat())) fits.set(reed, fitReed(reed, spectrum));
  const weights = peakWeights(spectrum, before);
  const missing = new Map([...fits].map(([reed, fit]) => [reed, missedBy(fit, spectrum)]));
  return grips
    .map((grip) => {
      const explained = new Set<number>();
      let score = -REED_COST * grip.length;
      for (const reed of grip) {
        score -= missing.get(reed) ?? 0;
        for (const place of fits.get(reed)?.harmonics ?? []) if (place !== null) explained.add(place);
      }
      for (const place of explained) score += weights[place] ?? 0;
      return { grip, score };
    })
    .sort((a, b) => b.score - a.score);
}

/** 0 for a peak that says nothing, 1 for the strongest. */
function peakWeights(spectrum: StrokeSpectrum, before: StrokeSpectrum | null): readonly number[] {
  const { strongestDb } = spectrum;
  return spectrum.peaks.map((peak) => {
    if (before !== null && ringsOn(peak, before)) return 0;
    const clear = Math.min(1, (peak.levelDb - spectrum.noiseDb(peak.hz)) / CLEAR_DB);
    return (clear * Math.max(0, peak.levelDb - strongestDb + RANGE_DB)) / RANGE_DB;
  });
}

/** Whether a peak may be what the room keeps of the stroke before: the same tone, so much softer. */
function ringsOn({ hz, levelDb }: SpectralPeak, before: StrokeSpectrum): boolean {
  const near = nearHz(hz, before);
  for (let place = firstFrom(before.peaks, hz - near); place < before.peaks.length; place++) {
    const other = before.peaks[place];
    if (other === undefined || other.hz > hz + near) return false;
    if (other.levelDb - levelDb > RINGING_DB) return true;
  }
  return false;
}

/** What speaks against a reed: low harmonics that ought to stand out and do not. */
function missedBy(fit: ReedFit, spectrum: StrokeSpectrum): number {
  return MISSED_WEIGHTS.reduce((sum, weight, h) => {
    const hz = (h + 1) * fit.hz;
    if (fit.harmonics[h] !== null || isHidden(hz, spectrum)) return sum;
    const room = spectrum.strongestDb - SOFTER_DB - spectrum.noiseDb(hz);
    return sum + weight * Math.max(0, Math.min(1, room / 6));
  }, 0);
}

function isHidden(hz: number, { peaks, resolutionHz }: StrokeSpectrum): boolean {
  const reach = HIDES_RESOLUTIONS * resolutionHz;
  const next = peaks[firstFrom(peaks, hz - reach)];
  return next !== undefined && next.hz <= hz + reach;
}
