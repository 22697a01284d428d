import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { isMade, type PlannedTake, planCorpus, readTruth } from "../corpus/corpus.ts";
import { isForTiming } from "../corpus/recipes.ts";
import { type Engine, KNOWING, OWN, PEERS } from "../engines/engine.ts";
import { NO_SCORE } from "../measures/take-score.ts";
import { asData } from "../report/as-data.ts";
import { bendTable } from "../report/bends.ts";
import { comparisonTable, detailTable } from "../report/comparison.ts";
import { figureTable, reachedFigures } from "../report/figure-table.ts";
import { isOfLeaks, leakTable } from "../report/leaks.ts";
import { type SeedResult, TAKES, type Timed } from "../report/measured.ts";
import { speedTable } from "../report/speeds.ts";
import { type Options, UsageError } from "./arguments.ts";
import { doJobs, type Job } from "./jobs.ts";
import { marksDelay } from "./marks-delay.ts";
import { canPin, speedsOf, type TimedCommand } from "./speed.ts";

const say = (line: string) => void process.stderr.write(`${line}\n`);
const print = (text: string) => void process.stdout.write(`${text}\n`);

/**
 * The whole bench: progress on standard error, tables on standard output.
 *
 * @param script this program's bundle, out/bench/listen.js: what the worker threads run
 */
export async function runBench(options: Options, script: URL): Promise<void> {
  const root = path.join(path.dirname(fileURLToPath(script)), "..", "..");
  const engines = [OWN, ...installed(options.engines)];
  if (!engines.some(({ name }) => name === options.judge)) {
    throw new UsageError(`--judge: there is no engine "${options.judge}"`);
  }
  const results: SeedResult[] = [];
  let timedTakes: readonly PlannedTake[] = [];
  for (const seed of options.seeds) {
    const takes = await corpusOf(seed, options, root, script);
    timedTakes = timedTakes.length > 0 ? timedTakes : takes.filter(({ name }) => isForTiming(name));
    results.push(await listenAll(seed, takes, engines, options.jobs, script));
  }
  const timed = options.speed
    ? await timeAll(timedTakes, engines, root, script)
    : { speeds: [], marks: null };
  report(results, timed, options);
}

/** Leaves out peers whose program is missing, and says so. */
function installed(engines: readonly Engine[]): Engine[] {
  return engines.filter((engine) => {
    if (engine.kind !== "peer") return true;
    const { program, debianPackage } = PEERS[engine.peer];
    if (program === null || spawnSync("sh", ["-c", `command -v ${program}`]).status === 0) return true;
    say(`${engine.name} is left out: there is no ${program} on the path (Debian package ${debianPackage})`);
    return false;
  });
}

async function corpusOf(seed: number, options: Options, root: string, script: URL): Promise<PlannedTake[]> {
  const folder = path.join(root, "out", "bench", "listen-corpus");
  const makers = path.join(root, "tests", "bench", "listen", "corpus");
  const { takes, leftOut } = planCorpus(seed, options.fonts, options.filter, folder, makers);
  for (const line of leftOut) say(line);
  if (takes.length === 0) throw new UsageError(`--filter: no take has a name like ${options.filter.source}`);
  const missing = takes.filter((take) => !isMade(take));
  const made = await progress(
    `seed ${seed}: making takes`,
    missing.map((take) => ({ kind: "make", take })),
    options.jobs,
    script,
  );
  const failed = new Set(made.filter(({ trouble }) => trouble !== null).map(({ job }) => job.take.base));
  return takes.filter(({ base }) => !failed.has(base));
}

async function listenAll(
  seed: number,
  takes: readonly PlannedTake[],
  engines: readonly Engine[],
  threads: number,
  script: URL,
): Promise<SeedResult> {
  const measured = takes.filter(({ name }) => !isForTiming(name));
  const listening = engines.flatMap((engine): Job[] =>
    measured.map((take) => ({ kind: "listen", take, engine })),
  );
  const knowing = measured
    .filter(({ name }) => isOfLeaks(name))
    .map((take): Job => ({ kind: "listen", take, engine: KNOWING }));
  const live = measured
    .filter(({ name }) => TAKES.inNoise.test(name))
    .map((take): Job => ({ kind: "live", take }));
  const done = await progress(
    `seed ${seed}: listening`,
    [...listening, ...knowing, ...live],
    threads,
    script,
  );
  const resultsOf = ({ name }: Engine) =>
    done
      .filter(({ job }) => job.kind === "listen" && job.engine.name === name)
      .map(({ job: { take }, score }) => ({ take: take.name, group: take.group, score: score ?? NO_SCORE }));
  const streamed = done.filter(({ job }) => job.kind === "live");
  return {
    seed,
    engines: new Map(engines.map((engine) => [engine.name, resultsOf(engine)])),
    harpKnown: resultsOf(KNOWING),
    liveMs: new Map(streamed.map(({ job, liveMs }) => [job.take.name, liveMs])),
  };
}

/** Does jobs with a counter on standard error; a job that failed has a line of its own. */
async function progress(what: string, jobs: readonly Job[], threads: number, script: URL) {
  const start = performance.now();
  const seconds = () => ((performance.now() - start) / 1000).toFixed(0);
  const done = await doJobs(jobs, threads, script, ({ job, trouble }, count) => {
    const who = job.kind === "listen" ? `${job.engine.name} on ` : "";
    if (trouble !== null) say(`\n${who}${job.take.name} failed: ${trouble}`);
    if (process.stderr.isTTY) process.stderr.write(`\r${what}: ${count} of ${jobs.length}, ${seconds()} s `);
    else if (count % 50 === 0) say(`${what}: ${count} of ${jobs.length}, ${seconds()} s`);
  });
  if (jobs.length > 0) say(`${process.stderr.isTTY ? "\r" : ""}${what}: ${jobs.length} done, ${seconds()} s`);
  return done;
}

/** Needs the machine for itself, so nothing else is done meanwhile. */
async function timeAll(
  takes: readonly PlannedTake[],
  engines: readonly Engine[],
  root: string,
  script: URL,
): Promise<Timed> {
  const long = takes.find(({ name }) => name === "take60");
  const short = takes.find(({ name }) => name === "take1");
  if (long === undefined || short === undefined) {
    say("speed is not measured: the filter leaves out take60 and take1");
    return { speeds: [], marks: null };
  }
  say(`timing${canPin() ? "" : ", without taskset: on every core"}`);
  const bundle = `'${process.execPath}' '${fileURLToPath(script)}'`;
  const commands = engines.map((engine): TimedCommand => {
    const { name } = engine;
    if (engine.kind === "command") return { name, command: engine.command };
    if (engine.kind === "peer") return { name, command: `${bundle} --peer ${engine.peer} {}` };
    return {
      name,
      command: `'${process.execPath}' '${path.join(root, "electron", "reedpath.mjs")}' listen {}`,
    };
  });
  const speeds = speedsOf(commands, `${long.base}.wav`, `${short.base}.wav`, say);
  return { speeds, marks: await marksDelay(`${long.base}.wav`, readTruth(long)) };
}

function report(results: readonly SeedResult[], timed: Timed, options: Options): void {
  if (options.filter.source !== ".")
    print(`\nOnly takes named like ${options.filter.source}: figures rest on these.`);
  for (const result of results) {
    print(`\n## Seed ${result.seed}: engines side by side\n\n${comparisonTable(result, timed)}`);
    print(`\nSecond reeds, as ${options.judge} hears them:\n\n${leakTable(result, options.judge)}`);
    print(`\nBends of recorded reeds:\n\n${bendTable(result)}`);
    if (options.details) print(`\nEvery group of takes:\n\n${detailTable(result)}`);
  }
  if (timed.speeds.length > 0) print(`\n## Speed\n\n${speedTable(timed)}`);
  const reached = reachedFigures(results.map((result) => ({ result, timed, engine: options.judge })));
  print(`\n## Figures to reach: ${options.judge}\n\n${figureTable(reached, options.seeds)}`);
  if (options.json === null) return;
  writeFileSync(options.json, `${JSON.stringify(asData(results, timed, reached, options.judge), null, 1)}\n`);
  say(`written: ${options.json}`);
}
