import { median } from "../../listen/median.ts";
import { type Cents, cents, type Dbfs, dbfs, type Midi, midi } from "../../units.ts";
import type { ReedReading } from "./reed-reading.ts";

/** Several short readings, and the median of them, are common practice; three is the least with a middle. */
export const READINGS_WANTED = 3;
/** Readings this near to one another agree: breath alone moves a reed by a few cents. Common practice, no source. */
export const AGREE_CENTS = 4;
/** After so many notes without three that agree, the reed is taken as it is, and said to be unsteady. */
export const MOST_READINGS = 7;

/** What several readings of one reed come to. */
export interface AgreedReading {
  /** Median of the readings that count, fractional, A4 = 440 Hz. */
  readonly midi: Midi;
  /** From the lowest to the highest of those that count. */
  readonly rangeCents: Cents;
  readonly counted: number;
  /** Readings that disagree with those. */
  readonly leftOut: number;
  /** Whether three agree; where not, all of them count. */
  readonly agreed: boolean;
  /** Medians over those that count. */
  readonly wanderCents: Cents;
  readonly levelDbfs: Dbfs;
}

/** The pitch of a reed from its readings; null without any. */
export function agreedReading(readings: readonly ReedReading[]): AgreedReading | null {
  if (readings.length === 0) return null;
  const together = largestAgreeing(readings);
  const agreed = together.length >= READINGS_WANTED;
  const counted = agreed ? together : readings;
  const pitches = counted.map((reading) => reading.midi);
  return {
    midi: midi(median(pitches)),
    rangeCents: cents(100 * (Math.max(...pitches) - Math.min(...pitches))),
    counted: counted.length,
    leftOut: readings.length - counted.length,
    agreed,
    wanderCents: cents(median(counted.map((reading) => reading.wanderCents))),
    levelDbfs: dbfs(median(counted.map((reading) => reading.levelDbfs))),
  };
}

/** Whether no further note is needed: three agree, or enough were tried. */
export function isSettled(readings: readonly ReedReading[]): boolean {
  return largestAgreeing(readings).length >= READINGS_WANTED || readings.length >= MOST_READINGS;
}

/** Whether a newest reading stands apart from all before it. */
export function standsApart(readings: readonly ReedReading[]): boolean {
  const last = readings.at(-1);
  const before = readings.slice(0, -1);
  if (last === undefined || before.length === 0) return false;
  return before.every((reading) => Math.abs(reading.midi - last.midi) * 100 > AGREE_CENTS);
}

/** The most readings within `AGREE_CENTS` of one another; of two such groups the narrower. */
function largestAgreeing(readings: readonly ReedReading[]): readonly ReedReading[] {
  const sorted = [...readings].sort((a, b) => a.midi - b.midi);
  let best: readonly ReedReading[] = [];
  const width = (group: readonly ReedReading[]) => (group.at(-1)?.midi ?? 0) - (group[0]?.midi ?? 0);
  for (let from = 0; from < sorted.length; from++) {
    const low = sorted[from]?.midi ?? 0;
    const group = sorted.slice(from).filter((reading) => (reading.midi - low) * 100 <= AGREE_CENTS + 1e-9);
    const better = group.length - best.length || width(best) - width(group);
    if (better > 0) best = group;
  }
  return best;
}
