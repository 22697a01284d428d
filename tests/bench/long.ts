/**
 * Hours of sound through the streaming listener: what it holds on to, and whether its clock stays with the sample count.
 *
 * Usage: npm run bench:long -- [--minutes N, 120] [--rate N, 44100] [--keeping everything|notes|nothing, notes]
 */
import { parseArgs } from "node:util";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { type Keeping, Listener } from "../../core/listen/listener.ts";
import { rootMeanSquare } from "./listen/measures/statistics.ts";

const NOTE_SECONDS = 0.25;
const BAR = [60, 62, 64, 65, 67, 69, 71, 72, 74, 72, 71, 69, 67, 65, 64, 62] as const;
const BAR_SECONDS = BAR.length * NOTE_SECONDS;
const ROOM_RMS = 0.0003;
/** Every so often the memory is read. */
const REPORT_SECONDS = 600;

const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "120" },
    rate: { type: "string", default: "44100" },
    keeping: { type: "string", default: "notes" },
  },
});
const seconds = 60 * Number(values.minutes);
const rate = Number(values.rate);
const KEEPINGS: readonly Keeping[] = ["everything", "notes", "nothing"];
const keeping = KEEPINGS.find((one) => one === values.keeping);
if (keeping === undefined || !(seconds >= REPORT_SECONDS) || !(rate >= 8000)) {
  throw new Error("--minutes from 10, --rate from 8000, --keeping everything, notes or nothing");
}

const bar = barOfNotes();
const listener = new Listener(rate, keeping);
const started = performance.now();
const rows: string[] = [];
let first: Memory | null = null;
for (let at = 0; at < seconds; at += BAR_SECONDS) {
  listener.push(bar);
  const reached = at + BAR_SECONDS;
  if (reached % REPORT_SECONDS !== 0) continue;
  const now = memory();
  // Compiled code and buffers of their final size come in the first stretch.
  first ??= now;
  rows.push(
    `${String(reached / 60).padStart(4)} min  objects ${mega(now.objects - first.objects)}  buffers ${mega(now.buffers - first.buffers)}`,
  );
}
const busy = (performance.now() - started) / 1000;
const before = memory();
const heard = listener.finish();
const after = memory();
process.stdout.write(
  `${[
    `bench:long, ${values.minutes} minutes at ${rate} Hz, keeping ${keeping}: ${(seconds / busy).toFixed(0)} x real time`,
    "growth since the first ten minutes, after collecting garbage:",
    ...rows,
    `finishing adds objects ${mega(after.objects - before.objects)}  buffers ${mega(after.buffers - before.buffers)}`,
    ...timing(heard.notes.map(({ onSeconds }) => onSeconds)),
  ].join("\n")}\n`,
);

interface Memory {
  readonly objects: number;
  readonly buffers: number;
}

function memory(): Memory {
  if (globalThis.gc === undefined) throw new Error("run with node --expose-gc");
  globalThis.gc();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return { objects: heapUsed, buffers: arrayBuffers };
}

function mega(bytes: number): string {
  return `${(bytes / 1e6).toFixed(2)} MB`.padStart(9);
}

/** Sixteen quavers, reed-like, each a whole number of samples apart, over the noise of a quiet room. */
function barOfNotes(): Float32Array {
  const random = seededRandom(1);
  const samples = Float32Array.from({ length: BAR_SECONDS * rate }, () => ROOM_RMS * (2 * random() - 1));
  for (const [place, midi] of BAR.entries()) {
    const from = Math.round(place * NOTE_SECONDS * rate);
    const hz = 440 * 2 ** ((midi - 69) / 12);
    for (let i = 0; i < (NOTE_SECONDS - 0.015) * rate; i++) {
      const at = i / rate;
      const level = Math.min(1, at / 0.02, (NOTE_SECONDS - 0.015 - at) / 0.015);
      let tone = 0;
      for (let k = 1; k <= 12; k++) tone += k ** -0.7 * Math.sin(2 * Math.PI * k * hz * at + k * k);
      samples[from + i] = (samples[from + i] ?? 0) + 0.05 * level * tone;
    }
  }
  return samples;
}

/** Notes found, and how far their onsets lie from the written ones at the beginning and at the end. */
function timing(onsets: readonly number[]): readonly string[] {
  const written = Math.round(seconds / NOTE_SECONDS);
  const found = `${onsets.length} notes of ${written} written`;
  if (onsets.length !== written) return [found];
  const late = onsets.map((on, place) => 1000 * (on - place * NOTE_SECONDS));
  const part = Math.min(late.length, REPORT_SECONDS / NOTE_SECONDS);
  const mean = (ms: readonly number[]) => ms.reduce((sum, one) => sum + one, 0) / ms.length;
  const [early, last] = [late.slice(0, part), late.slice(-part)];
  return [
    found,
    `onset less written: first ten minutes ${mean(early).toFixed(3)} ms, last ${mean(last).toFixed(3)} ms, rms ${rootMeanSquare(late).toFixed(3)} ms`,
  ];
}
