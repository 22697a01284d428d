/**
 * Hours of sound through the streaming listener: what it holds on to, and whether its clock stays with the sample count.
 * With --hours through all that the window does with it: gathering, takes, the meter, walks along the reeds.
 *
 * Usage: npm run bench:long -- [--minutes N, 120] [--rate N, 44100] [--keeping everything|notes|nothing, notes]
 *        npm run bench:long -- --hours N [--rate N, 44100]
 */
import { parseArgs } from "node:util";
import { type Keeping, Listener } from "../../core/listen/listener.ts";
import { rootMeanSquare } from "./listen/measures/statistics.ts";
import { type Memory, mega, memory } from "./long/memory.ts";
import { BAR_SECONDS, barOfNotes, NOTE_SECONDS } from "./long/sound.ts";
import { hoursOfPractice } from "./long/window-path.ts";

/** Every so often the memory is read. */
const REPORT_SECONDS = 600;

const { values } = parseArgs({
  options: {
    hours: { type: "string" },
    minutes: { type: "string", default: "120" },
    rate: { type: "string", default: "44100" },
    keeping: { type: "string", default: "notes" },
  },
});
const seconds = 60 * Number(values.minutes);
const rate = Number(values.rate);
const KEEPINGS: readonly Keeping[] = ["everything", "notes", "nothing"];
const keeping = KEEPINGS.find((one) => one === values.keeping);
if (values.hours !== undefined && !(Number.isInteger(Number(values.hours)) && Number(values.hours) >= 1))
  throw new Error("--hours is a whole number from 1");
if (keeping === undefined || !(seconds >= REPORT_SECONDS) || !(rate >= 8000)) {
  throw new Error("--minutes from 10, --rate from 8000, --keeping everything, notes or nothing");
}

if (values.hours === undefined) listenAlone(keeping);
else {
  process.stdout.write(`bench:long, ${values.hours} hours at ${rate} Hz, as the window listens:\n`);
  hoursOfPractice(Number(values.hours), rate, (line) => process.stdout.write(`${line}\n`));
}

function listenAlone(keeping: Keeping): void {
  const bar = barOfNotes(rate);
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
