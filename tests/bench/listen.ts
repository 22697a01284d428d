/**
 * How well `listen` hears: makes the takes (kept under out/bench), lets this program and its peers listen to them, and prints
 * the comparison, the figures to reach and what was reached. See USAGE in listen/run/arguments.ts.
 */
import { isMainThread } from "node:worker_threads";
import { isPeer, peerAnswer } from "./listen/engines/engine.ts";
import { readOptions, USAGE, UsageError } from "./listen/run/arguments.ts";
import { runBench } from "./listen/run/bench.ts";
import { serveJobs } from "./listen/run/jobs.ts";

async function main(argv: readonly string[]): Promise<void> {
  if (argv.includes("--help")) {
    process.stdout.write(`${USAGE}\n`);
    return;
  }
  const [first, peer = "", wav = ""] = argv;
  // A peer as a command of its own, for the timing.
  if (first === "--peer" && isPeer(peer)) {
    process.stdout.write(`${JSON.stringify(await peerAnswer(peer, wav))}\n`);
    return;
  }
  await runBench(readOptions(argv, process.env.INIT_CWD ?? process.cwd()), new URL(import.meta.url));
}

if (isMainThread) {
  main(process.argv.slice(2)).catch((error: unknown) => {
    const plain = error instanceof UsageError;
    process.stderr.write(`bench:listen: ${plain ? `${error.message}\n${USAGE}` : String(error)}\n`);
    process.exitCode = plain ? 2 : 1;
  });
} else serveJobs();
