/**
 * Faults planted in takes of a recorded harmonica, and what the marks say of them. Maker and judge share no code: notes
 * come from the published layout tables, sound from FluidSynth, its tuning from Praat.
 */
import { mkdirSync } from "node:fs";
import { availableParallelism } from "node:os";
import { parseArgs } from "node:util";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";
import { missingForFluidsynth } from "../outside/fluidsynth.ts";
import { hasTool } from "../outside/tools.ts";
import type { TakeResult } from "./marks/mark-take.ts";
import { measureReeds } from "./marks/reed-samples.ts";
import { failures, report } from "./marks/report.ts";
import { runShare, type Share } from "./marks/run.ts";

const USAGE = `npm run bench:marks -- [options]
  --seed N        seed of the drills and faults, 1 where none is said; several are counted together
  --exercises N   drills at each tempo, 24 where not said
  --quick         6 drills at each tempo
  --failures      every failure, not the first few
  --keep FOLDER   keeps exercise and sound of each take with a failure
`;

const USUAL_EXERCISES = 24;
const QUICK_EXERCISES = 6;
const MOST_FAILURES_SHOWN = 12;

if (isMainThread) await main();
else parentPort?.postMessage(runShare(workerData as Share));

async function main(): Promise<void> {
  if (process.argv.includes("--help")) {
    process.stdout.write(USAGE);
    return;
  }
  const missing = [...missingForFluidsynth, ...(hasTool("praat") ? [] : ["praat"])];
  if (missing.length > 0) {
    process.stderr.write(`bench:marks needs ${missing.join(", ")}\n`);
    process.exitCode = 2;
    return;
  }
  const options = readOptions();
  if (typeof options === "string") {
    process.stderr.write(`bench:marks: ${options}\n`);
    process.exitCode = 2;
    return;
  }
  if (options.keep !== null) mkdirSync(options.keep, { recursive: true });
  const started = performance.now();
  const results = await shared(options);
  const failed = failures(results);
  const shown = options.all ? failed : failed.slice(0, MOST_FAILURES_SHOWN);
  const seconds = (performance.now() - started) / 1000;
  process.stdout.write(
    `${[
      `bench:marks, seed ${options.seeds.join(", ")}, ${options.exercisesPerTempo} exercises at each tempo (crotchets a minute), ${seconds.toFixed(0)} s`,
      report(results),
      `${failed.length} failures${shown.length < failed.length ? `; the first ${shown.length} (--failures shows all)` : ""}:`,
      shown.join("\n"),
    ].join("\n\n")}\n`,
  );
}

interface Options {
  readonly seeds: readonly number[];
  readonly exercisesPerTempo: number;
  readonly keep: string | null;
  readonly all: boolean;
}

/** @returns what is wrong with them, in one line */
function readOptions(): Options | string {
  let values: ReturnType<typeof parsed>;
  try {
    values = parsed();
  } catch (error) {
    return error instanceof Error ? (error.message.split(". ")[0] ?? "") : String(error);
  }
  const usual = values.quick ? QUICK_EXERCISES : USUAL_EXERCISES;
  const seeds = values.seed.map(Number);
  const exercisesPerTempo = Number(values.exercises ?? usual);
  const whole = (value: number) => Number.isInteger(value) && value >= 1;
  if (!seeds.every(whole) || !whole(exercisesPerTempo))
    return "--seed and --exercises take whole numbers from 1 on";
  return { seeds, exercisesPerTempo, keep: values.keep ?? null, all: values.failures };
}

function parsed() {
  return parseArgs({
    options: {
      seed: { type: "string", multiple: true, default: ["1"] },
      exercises: { type: "string" },
      quick: { type: "boolean", default: false },
      failures: { type: "boolean", default: false },
      keep: { type: "string" },
    },
  }).values;
}

/** The takes, divided among as many workers as there are processors. */
async function shared({ seeds, exercisesPerTempo, keep }: Options): Promise<readonly TakeResult[]> {
  const workers = availableParallelism();
  const measured = measureReeds();
  const parts = Array.from({ length: workers }, (_, worker) =>
    ofWorker({ measured, seeds, exercisesPerTempo, worker, workers, keep }),
  );
  const results = (await Promise.all(parts)).flat();
  return results.toSorted((a, b) => a.take.localeCompare(b.take, "en", { numeric: true }));
}

function ofWorker(share: Share): Promise<readonly TakeResult[]> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL(import.meta.url), { workerData: share });
    worker.once("message", resolve);
    worker.once("error", reject);
  });
}
