import { burstsOf } from "../../core/delay/bursts.ts";
import { type LoopbackDelay, loopbackDelay } from "../../core/delay/loopback-delay.ts";
import { makeProbe } from "../../core/delay/probe.ts";
import { writeWav } from "../../core/listen/wav.ts";
import { seconds } from "../../core/units.ts";
import { writeWhole } from "../write-whole.ts";
import { fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { fileTrouble, readTakeFile } from "./files.ts";
import type { Io } from "./io.ts";

/** Prints by how much later a recording holds what was played; both files begin at the same moment. */
export async function delay(args: readonly string[], io: Io): Promise<void> {
  const [playedPath = "", recordedPath = ""] = fileWords(readArguments(args, []), [
    "PLAYED.wav",
    "RECORDED.wav",
  ]);
  const played = await readTakeFile(playedPath);
  const recorded = await readTakeFile(recordedPath);
  const { sampleRateHz } = played;
  if (recorded.sampleRateHz !== sampleRateHz) {
    throw new CommandError(
      `${recordedPath}: is at ${recorded.sampleRateHz} Hz, and ${playedPath} at ${sampleRateHz} Hz; both must be alike`,
    );
  }
  const bursts = burstsOf(played.samples, sampleRateHz);
  if (bursts.length === 0) throw new CommandError(`${playedPath}: only silence`);
  io.stdout(
    `${JSON.stringify(delayJson(loopbackDelay(bursts, recorded.samples, sampleRateHz, seconds(0))))}\n`,
  );
}

const inMs = (value: number) => Math.round(1e5 * value) / 100;

function delayJson(found: LoopbackDelay) {
  const about = { schema: "reedpath.delay", version: 1, kind: found.kind };
  switch (found.kind) {
    case "found":
      return {
        ...about,
        delayMs: inMs(found.delaySeconds),
        spreadMs: inMs(found.spreadSeconds),
        clearBursts: found.clearBursts,
        bursts: found.bursts,
        clearDb: Math.round(10 * found.clearDb) / 10,
      };
    case "unsteady":
      return { ...about, spreadMs: inMs(found.spreadSeconds), clearBursts: found.clearBursts };
    case "not heard":
      return { ...about, clearBursts: found.clearBursts, bursts: found.bursts };
  }
}

/** Loud enough to be heard, soft enough for headphones that someone left on. */
const PROBE_SHARE = 0.1;

/** Writes the sound that is played to find the delay. */
export async function probe(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["rate"]);
  const [path = ""] = fileWords(read, ["OUT.wav"]);
  const rate = numberOption(read, "rate", 48_000, { low: 8000, high: 192_000, whole: true });
  const samples = makeProbe(rate).map((sample) => PROBE_SHARE * sample);
  try {
    await writeWhole(path, writeWav(samples, rate, "float32"));
  } catch (error) {
    throw new CommandError(`${path}: ${fileTrouble(error, "cannot be written")}`);
  }
  const lengthSeconds = Math.round((1000 * samples.length) / rate) / 1000;
  const about = { schema: "reedpath.probe", version: 1, sampleRateHz: rate, lengthSeconds };
  io.stdout(`${JSON.stringify({ ...about, bursts: burstsOf(samples, rate).length })}\n`);
}
