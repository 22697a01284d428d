import type { ChordReed, Grip } from "./chord-reeds.ts";
import { firstFrom, fitReed, type ReedFit } from "./reed-fit.ts";
import type { StrokeSpectrum } from "./stroke-spectrum.ts";

/** How well a grip explains a spectrum. */
export interface WeighedGrip {
  readonly grip: Grip;
  readonly score: number;
}

/** Peaks this far below the strongest say nothing. */
const RANGE_DB = 38;
/** The harmonics a reed is missed by, and how much each counts: the first is where nothing else is. */
const MISSED_WEIGHTS = [1.4, 1, 0.7, 0.5] as const;
/** A harmonic should stand out if its reed is this much softer than the strongest. */
const SOFTER_DB = 22;
/** Each further reed has to explain as much. */
const REED_COST = 0.5;
/** Peaks nearer to a harmonic than this, in resolutions, hide it where they are stronger. */
const HIDES_RESOLUTIONS = 2.2;

/** Every grip with its score, the best first. */
export function weighGrips(grips: readonly Grip[], spectrum: StrokeSpectrum): readonly WeighedGrip[] {
  const fits = new Map<ChordReed, ReedFit>();
  for (const reed of new Set(grips.flat())) fits.set(reed, fitReed(reed, spectrum));
  const weights = peakWeights(spectrum);
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
export function peakWeights({ peaks, strongestDb }: StrokeSpectrum): readonly number[] {
  return peaks.map(({ levelDb }) => Math.max(0, levelDb - strongestDb + RANGE_DB) / RANGE_DB);
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
