/** Simulated players, and what progress tells them: false claims, changes found, drifts that are none. */
import { availableParallelism } from "node:os";
import { parseArgs } from "node:util";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";
import { CONDITIONS } from "./progress/conditions.ts";
import { allKept, report } from "./progress/report.ts";
import { type Results, runShare } from "./progress/run.ts";
import type { Share } from "./progress/seeds.ts";
import { SPOT_CONDITIONS } from "./progress/spots.ts";

const USAGE = `npm run bench:progress -- [options]
  --seed N      seed of the players, 1 where not said
  --players N   players where a figure rests on them, 400 where not said; a quarter elsewhere
  --quick       100 players of each kind
  --row NAME    this row of the tables alone, with all players; may be said more than once
  --part NAME   one table: unchanged, drift, better, bends or spots; may be said more than once
`;

type Asked = Pick<Share, "seed" | "players" | "parts" | "rows">;

const PARTS = [...Object.keys(CONDITIONS), "spots"];
const ROWS = [...Object.values(CONDITIONS).flat(), ...SPOT_CONDITIONS].map(({ name }) => name);
const USUAL_PLAYERS = 400;
const QUICK_PLAYERS = 100;

if (isMainThread) await main();
else parentPort?.postMessage(runShare(workerData as Share));

async function main(): Promise<void> {
  if (process.argv.includes("--help")) {
    process.stdout.write(USAGE);
    return;
  }
  const options = readOptions();
  if (typeof options === "string") {
    process.stderr.write(`bench:progress: ${options}\n`);
    process.exitCode = 2;
    return;
  }
  const started = performance.now();
  const results = await shared(options);
  const seconds = ((performance.now() - started) / 1000).toFixed(0);
  const { seed, players } = options;
  process.stdout.write(
    `bench:progress, seed ${seed}, ${players} players of each kind, ${seconds} s; 95 % intervals in brackets\n\n${report(results)}\n`,
  );
  process.exitCode = allKept(results) ? 0 : 1;
}

/** @returns what is wrong with them, in one line */
function readOptions(): Asked | string {
  let values: ReturnType<typeof parsed>;
  try {
    values = parsed();
  } catch (error) {
    return error instanceof Error ? (error.message.split(". ")[0] ?? "") : String(error);
  }
  const unknown = [
    ...values.part.filter((part) => !PARTS.includes(part)),
    ...values.row.filter((row) => !ROWS.includes(row)),
  ];
  if (unknown.length > 0)
    return `no such table or row: ${unknown.join(", ")}; rows are ${[...new Set(ROWS)].join(", ")}`;
  const seed = Number(values.seed);
  const players = Number(values.players ?? (values.quick ? QUICK_PLAYERS : USUAL_PLAYERS));
  const whole = (value: number) => Number.isInteger(value) && value >= 1;
  return whole(seed) && whole(players)
    ? { seed, players, parts: values.part, rows: values.row }
    : "--seed and --players take whole numbers from 1 on";
}

function parsed() {
  return parseArgs({
    options: {
      seed: { type: "string", default: "1" },
      players: { type: "string" },
      row: { type: "string", multiple: true, default: [] },
      part: { type: "string", multiple: true, default: [] },
      quick: { type: "boolean", default: false },
    },
  }).values;
}

/** The players, divided among as many workers as there are processors. */
async function shared(options: Asked): Promise<Results> {
  const workers = availableParallelism();
  const parts = await Promise.all(
    Array.from({ length: workers }, (_, worker) => ofWorker({ ...options, worker, workers })),
  );
  return parts.reduce(together);
}

function ofWorker(share: Share): Promise<Results> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL(import.meta.url), { workerData: share });
    worker.once("message", resolve);
    worker.once("error", reject);
  });
}

/** Counts of two workers added up. */
function together(one: Results, other: Results): Results {
  return {
    trends: one.trends.map(([key, told]) => [key, added(told, new Map(other.trends).get(key))]),
    spots: one.spots.map(([key, told]) => [key, added(told, new Map(other.spots).get(key))]),
  };
}

function added<Counts extends object>(one: Counts, other: Counts | undefined): Counts {
  if (other === undefined) return one;
  const names = new Set([...Object.keys(one), ...Object.keys(other)]) as Set<keyof Counts>;
  const sums = [...names].map((name) => {
    const [a, b] = [one[name], other[name]];
    if (typeof a === "object" && a !== null) return [name, added(a, b as typeof a)];
    return [name, Number(a ?? 0) + Number(b ?? 0)];
  });
  return Object.fromEntries(sums) as Counts;
}
