/**
 * Mutated files of tunes, every kind in turn: each has to give an answer or say what is wrong, and what was read has to be
 * written again. Prints how long the slowest took and how much memory was held; ends with status 1 where one failed.
 */
import { parseArgs } from "node:util";
import { FILE_KINDS, soundFiles, tryMutated } from "../support/mutated-tune-files.ts";
import { soundTexts, tryMutatedText } from "../support/mutated-tune-texts.ts";

/** What one file may take of the processor: other work on the machine does not count. */
const MOST_SECONDS = 2;
const SAY_EVERY = 1000;

const USAGE = "npm run fuzz:tunes -- [--inputs N, 20000] [--first SEED, 0]";
const { values } = parseArgs({
  options: {
    inputs: { type: "string", default: "20000" },
    first: { type: "string", default: "0" },
    help: { type: "boolean", default: false },
  },
});
if (values.help) {
  process.stdout.write(`${USAGE}\n`);
  process.exit(0);
}
const [inputs, first] = [Number(values.inputs), Number(values.first)];
if (!Number.isInteger(inputs) || inputs < 1 || !Number.isInteger(first) || first < 0) {
  process.stderr.write("fuzz:tunes: --inputs takes a whole number from 1 on, --first one from 0 on\n");
  process.exit(2);
}

const kinds = ["ABC", ...FILE_KINDS] as const;
const texts = soundTexts();
const files = soundFiles();
const slowest = new Map<string, { seconds: number; seed: number }>();
const failed: string[] = [];
let mostBytes = 0;

for (let count = 0; count < inputs; count++) {
  const kind = kinds[count % kinds.length] ?? "ABC";
  const seed = first + Math.floor(count / kinds.length);
  const faults = tried(kind, seed);
  failed.push(...faults.map((fault) => `${kind}, seed ${seed}: ${fault}`));
  mostBytes = Math.max(mostBytes, process.memoryUsage.rss());
  if ((count + 1) % SAY_EVERY === 0) process.stderr.write(`${count + 1} of ${inputs}\n`);
}

const table = [...slowest].map(([kind, { seconds, seed }]) => ({ kind, seconds, seed }));
process.stdout.write(
  `${JSON.stringify({ inputs, first, failed: failed.length, slowest: table, mostMemoryMB: Math.round(mostBytes / 1e6) }, null, 2)}\n`,
);
for (const line of failed.slice(0, 20)) process.stderr.write(`${line}\n`);
if (failed.length > 0) process.exitCode = 1;

/** @returns what is wrong, empty where all is well */
function tried(kind: (typeof kinds)[number], seed: number): readonly string[] {
  const start = process.cpuUsage();
  let faults: readonly string[];
  try {
    faults = kind === "ABC" ? tryMutatedText(seed, texts).faults : tryMutated(seed, kind, files).faults;
  } catch (error) {
    faults = [`threw ${error instanceof Error ? error.message : error}`];
  }
  const { user, system } = process.cpuUsage(start);
  const seconds = Math.round((user + system) / 1000) / 1000;
  if (seconds > (slowest.get(kind)?.seconds ?? -1)) slowest.set(kind, { seconds, seed });
  return seconds > MOST_SECONDS ? [...faults, `took ${seconds} s`] : faults;
}
