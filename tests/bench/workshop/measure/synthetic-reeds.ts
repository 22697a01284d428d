import { seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { listenToTake } from "../../../../core/listen/listen-to-take.ts";
import { agreedReading } from "../../../../core/workshop/measure/agreement.ts";
import { isReading, readingOf } from "../../../../core/workshop/measure/reed-reading.ts";
import { walkSound } from "../../../support/walked-harp.ts";
import { leastCents } from "../../listen/measures/cramer-rao.ts";

const RATES_HZ = [44_100, 48_000, 96_000];
const SNRS_DB = [60, 40, 20];
const REEDS = 30;
/** Whole-range registers of all keys: C3 to G7. */
const LOWEST = 48;
const HIGHEST = 103;

interface ReedError {
  /** Of the median of three notes. */
  readonly cents: number;
  /** From the lowest to the highest of the three. */
  readonly rangeCents: number;
  /** Of each note, with the least deviation that any unbiased reader can have. */
  readonly notes: readonly { readonly cents: number; readonly bound: number }[];
}

/** Reeds by chance, three notes each of 0.6 to 1.1 s, measured as a walk measures them. */
export function syntheticReeds(seeds: readonly number[]): readonly string[] {
  const lines = [
    `steady synthetic reeds C3..G7, ${REEDS * seeds.length} each, three notes of 0.6 to 1.1 s; errors in cents of the reed, the middle of three:`,
  ];
  for (const rateHz of RATES_HZ) {
    for (const snrDb of SNRS_DB) {
      const reeds = seeds.flatMap((seed) => measuredReeds(rateHz, snrDb, seed));
      lines.push(`  ${line(rateHz, snrDb, reeds)}`);
    }
  }
  return lines;
}

function line(rateHz: number, snrDb: number, reeds: readonly (ReedError | null)[]): string {
  const read = reeds.filter((reed) => reed !== null);
  const errors = read.map(({ cents }) => Math.abs(cents));
  const notes = read.flatMap((reed) => reed.notes);
  const ratio = Math.sqrt(
    sum(notes.map(({ cents }) => cents ** 2)) / sum(notes.map(({ bound }) => bound ** 2)),
  );
  const within = errors.filter((error) => error <= 0.2).length;
  const rms = Math.sqrt(sum(errors.map((error) => error ** 2)) / Math.max(1, errors.length));
  return [
    `${(rateHz / 1000).toFixed(1)} kHz ${snrDb} dB:`,
    `${within} of ${reeds.length} within 0.2, rms ${rms.toFixed(4)}, largest ${Math.max(...errors).toFixed(3)},`,
    `three notes within ${Math.max(...read.map((reed) => reed.rangeCents)).toFixed(3)},`,
    `notes ${ratio.toFixed(2)} times the Cramer-Rao bound`,
  ].join(" ");
}

const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);

function measuredReeds(rateHz: number, snrDb: number, seed: number): readonly (ReedError | null)[] {
  const random = seededRandom(seed * 1000 + snrDb + rateHz / 100);
  return Array.from({ length: REEDS }, (_, n) => {
    const midi = LOWEST + random() * (HIGHEST - LOWEST);
    const hz = 440 * 2 ** ((midi - 69) / 12);
    const tones = [0, 1, 2].map(() => ({ hz, seconds: 0.6 + 0.5 * random(), restSeconds: 0.25 }));
    const samples = walkSound(tones, { rateHz, seed: seed * 100 + n, snrDb });
    return errorOf(midi, snrDb, rateHz, listenToTake(samples, rateHz).notes);
  });
}

function errorOf(
  midi: number,
  snrDb: number,
  rateHz: number,
  notes: ReturnType<typeof listenToTake>["notes"],
): ReedError | null {
  const readings = notes.map(readingOf).filter(isReading);
  const agreed = agreedReading(readings);
  if (agreed === null || readings.length !== 3) return null;
  // The same noise over a wider band is less of it where the tone is.
  const inBand = snrDb + 10 * Math.log10(rateHz / 48_000);
  return {
    cents: 100 * (agreed.midi - midi),
    rangeCents: agreed.rangeCents,
    notes: readings.map((reading) => ({
      cents: 100 * (reading.midi - midi),
      bound: leastCents(midi, reading.settledSeconds, inBand),
    })),
  };
}
