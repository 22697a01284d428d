import fs from "node:fs";
import path from "node:path";
import { run } from "../../../electron/headless.ts";
import type { FuzzedReader, Outcome } from "./fuzzed-reader.ts";
import { fuzzedReaders } from "./readers.ts";
import { inputOf, PHASES, SHARED, type Tally, type Told, type Trial } from "./trial.ts";
import { watchWrites } from "./watch.ts";

/** Kept from before the watch: the input of a command has to be put somewhere. */
const openFile = fs.openSync;

function putFile(file: string, bytes: Uint8Array): void {
  const opened = openFile(file, "w");
  fs.writeSync(opened, bytes);
  fs.closeSync(opened);
}
const NOTHING: Tally = { inputs: 0, read: 0, refused: 0, commands: 0, slowestSeconds: 0, slowestInput: -1 };
const TELL_EVERY = 500;

/** Tries inputs one after the other; whoever watches sees in `shared` which one and how far. */
export async function tryInputs(trial: Trial, shared: Int32Array, tell: (told: Told) => void): Promise<void> {
  const readers = fuzzedReaders(trial.beside);
  const tallies = new Map<string, Tally>();
  const calls: string[] = [];
  watchWrites((call) => calls.push(call));
  for (let input = trial.from; input < trial.to; input++) {
    setShared(shared, input, "making");
    const { reader, make } = inputOf(readers, trial, input);
    const bytes = make();
    setShared(shared, input, "reading");
    const start = process.cpuUsage();
    const { kind, faults, owed } = await outcomeOf(reader, bytes);
    const { user, system } = process.cpuUsage(start);
    const seconds = Math.round((user + system) / 1000) / 1000;
    setShared(shared, input, "comparing");
    const owing = faultsOwed(owed);
    const isCommanded =
      trial.commandEvery > 0 && Math.floor(input / readers.length) % trial.commandEvery === 0;
    setShared(shared, input, "commanding");
    const ofCommand =
      isCommanded && reader.command !== null ? await faultsOfCommand(reader, bytes, trial.beside) : null;
    const wrong = [
      ...faults,
      ...owing,
      ...(ofCommand ?? []),
      ...calls.splice(0).map((call) => `wrote or reached out: ${call}`),
    ];
    for (const what of wrong) tell({ kind: "found", found: { reader: reader.name, input, what } });
    const before = tallies.get(reader.name) ?? NOTHING;
    tallies.set(reader.name, withOne(before, { kind, seconds, input, commanded: ofCommand !== null }));
    if ((input + 1) % TELL_EVERY === 0 || input + 1 === trial.to) {
      tell({ kind: "done", next: input + 1, tallies: Object.fromEntries(tallies) });
      tallies.clear();
    }
  }
}

function setShared(shared: Int32Array, input: number, phase: (typeof PHASES)[number]): void {
  Atomics.store(shared, SHARED.input, input);
  Atomics.store(shared, SHARED.phase, PHASES.indexOf(phase));
}

/** Whatever a reader throws is a fault of ours: what is wrong with a file is a value. */
export async function outcomeOf(reader: FuzzedReader, bytes: Uint8Array): Promise<Outcome> {
  try {
    return await reader.read(bytes);
  } catch (error) {
    return { kind: "refused", faults: [thrown(error)] };
  }
}

/** What a reading owes beside being quick; so is what is done with it. */
export function faultsOwed(owed: Outcome["owed"]): readonly string[] {
  try {
    return owed?.() ?? [];
  } catch (error) {
    return [thrown(error)];
  }
}

const thrown = (error: unknown): string =>
  `threw ${error instanceof Error ? (error.stack ?? "").split("\n").slice(0, 4).join(" ") : String(error)}`;

interface One {
  readonly kind: Outcome["kind"];
  readonly seconds: number;
  readonly input: number;
  readonly commanded: boolean;
}

function withOne(tally: Tally, { kind, seconds, input, commanded }: One): Tally {
  const isSlowest = seconds > tally.slowestSeconds;
  return {
    inputs: tally.inputs + 1,
    read: tally.read + (kind === "read" ? 1 : 0),
    refused: tally.refused + (kind === "refused" ? 1 : 0),
    commands: tally.commands + (commanded ? 1 : 0),
    slowestSeconds: isSlowest ? seconds : tally.slowestSeconds,
    slowestInput: isSlowest ? input : tally.slowestInput,
  };
}

/** The command answers in JSON, or refuses in one line; it leaves no file behind. */
export async function faultsOfCommand(
  reader: FuzzedReader,
  bytes: Uint8Array,
  beside: string,
): Promise<readonly string[]> {
  const file = path.join(beside, `input.${reader.ending}`);
  putFile(file, bytes);
  const files = fs.readdirSync(beside).sort().join();
  const words = reader.command?.(file) ?? [];
  let [out, err] = ["", ""];
  const status = await run(words, { stdout: (text) => (out += text), stderr: (text) => (err += text) });
  const faults: string[] = [];
  if (fs.readdirSync(beside).sort().join() !== files) faults.push("a file appeared or went");
  if (/something this program did not expect/.test(err)) faults.push(`${words[0]}: ${err.trim()}`);
  if (status === 0 && !isJson(out)) faults.push(`${words[0]} printed no JSON`);
  if (status !== 0 && !/^[^\n]+\n$/.test(err))
    faults.push(`${words[0]} did not refuse in one line: ${JSON.stringify(err.slice(0, 300))}`);
  if (/(?!\n)\p{Cc}/u.test(err))
    faults.push(`${words[0]} wrote to the terminal: ${JSON.stringify(err.slice(0, 300))}`);
  return faults;
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
