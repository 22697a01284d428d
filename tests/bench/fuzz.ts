/**
 * Tries every reader of files with inputs of chance and with changed files: each has to give what it read or say in one line
 * what is wrong, within two seconds, writing nothing. Ends with status 1 where something was found.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { isMainThread, parentPort, workerData } from "node:worker_threads";
import { makeBeside } from "./fuzz/beside.ts";
import { fuzzedReaders } from "./fuzz/readers.ts";
import { type Found, inputOf, type Trial } from "./fuzz/trial.ts";
import { faultsOfCommand, faultsOwed, outcomeOf, tryInputs } from "./fuzz/try-inputs.ts";
import { watchedRun } from "./fuzz/watched-run.ts";

const USAGE = `npm run fuzz -- [--inputs 100000] [--seed 1] [--from 0] [--reader NAME] [--command-every 20] [--keep out/fuzz]
npm run fuzz -- --file FILE --reader NAME    tries one file again`;
const SAY_EVERY = 1000;
/** Held by the whole program, the worker with the readers in it. */
const MOST_MEMORY_MB = 1500;
const MOST_KEPT = 100;

if (!isMainThread) {
  await tryInputs(workerData.trial, workerData.shared, (told) => parentPort?.postMessage(told));
} else await main();

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: {
      inputs: { type: "string", default: "100000" },
      seed: { type: "string", default: "1" },
      from: { type: "string", default: "0" },
      reader: { type: "string" },
      "command-every": { type: "string", default: "20" },
      keep: { type: "string", default: "out/fuzz" },
      file: { type: "string" },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help) return void process.stdout.write(`${USAGE}\n`);
  const beside = mkdtempSync(path.join(tmpdir(), "reedpath-fuzz-"));
  try {
    makeBeside(beside);
    if (values.file !== undefined) return await tryFile(values.file, values.reader ?? "", beside);
    const from = whole("from", values.from);
    const trial: Trial = {
      seed: whole("seed", values.seed),
      from,
      to: from + whole("inputs", values.inputs),
      only: values.reader ?? null,
      commandEvery: whole("command-every", values["command-every"]),
      beside,
    };
    await tryMany(trial, values.keep);
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}

function whole(name: string, text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 0) return value;
  process.stderr.write(`fuzz: --${name} takes a whole number from 0 on, not ${text}\n${USAGE}\n`);
  process.exit(2);
}

async function tryMany(trial: Trial, keep: string): Promise<void> {
  let next = trial.from;
  const goOn = () =>
    `npm run fuzz -- --seed ${trial.seed} --from ${next} --inputs ${trial.to - next}${trial.only === null ? "" : ` --reader ${trial.only}`}`;
  process.once("SIGINT", () => {
    process.stderr.write(`stopped; goes on with: ${goOn()}\n`);
    process.exit(130);
  });
  const all: Found[] = [];
  const readers = fuzzedReaders(trial.beside);
  const { tallies, hangs, mostMemoryMB } = await watchedRun(
    fileURLToPath(import.meta.url),
    trial,
    (found) => {
      const { reader, make } = inputOf(readers, trial, found.input);
      all.push({ ...found, reader: reader.name });
      if (all.length > MOST_KEPT) return;
      const file = path.join(keep, `${reader.name}-seed${trial.seed}-input${found.input}.${reader.ending}`);
      mkdirSync(keep, { recursive: true });
      writeFileSync(file, make());
      process.stderr.write(
        `${reader.name}, input ${found.input}: ${found.what}\n  again: npm run fuzz -- --file ${file} --reader ${reader.name}\n`,
      );
    },
    (after) => {
      next = after;
      if (next % SAY_EVERY === 0)
        process.stderr.write(`${next - trial.from} of ${trial.to - trial.from}; goes on with: ${goOn()}\n`);
    },
  );
  const rows = [...tallies].map(([reader, tally]) => ({ reader, ...tally }));
  const told = {
    seed: trial.seed,
    from: trial.from,
    inputs: trial.to - trial.from,
    found: all.length,
    hangs,
    writes: writesIn(all),
    mostMemoryMB,
    readers: rows,
  };
  process.stdout.write(`${JSON.stringify(told, null, 2)}\n`);
  if (mostMemoryMB > MOST_MEMORY_MB)
    process.stderr.write(`held ${mostMemoryMB} MB, more than ${MOST_MEMORY_MB}\n`);
  if (all.length > 0 || mostMemoryMB > MOST_MEMORY_MB) process.exitCode = 1;
}

function writesIn(all: readonly Found[]): number {
  return all.filter(({ what }) => /^wrote or reached out|^a file appeared/.test(what)).length;
}

async function tryFile(file: string, name: string, beside: string): Promise<void> {
  const { reader } = inputOf(fuzzedReaders(beside), { seed: 0, only: name }, 0);
  const bytes = new Uint8Array(readFileSync(file));
  const { kind, faults, owed } = await outcomeOf(reader, bytes);
  const ofCommand = reader.command === null ? [] : await faultsOfCommand(reader, bytes, beside);
  process.stdout.write(
    `${JSON.stringify({ reader: reader.name, kind, faults: [...faults, ...faultsOwed(owed), ...ofCommand] }, null, 2)}\n`,
  );
  if (faults.length + ofCommand.length > 0) process.exitCode = 1;
}
