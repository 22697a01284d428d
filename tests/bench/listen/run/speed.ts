import { spawnSync } from "node:child_process";
import { cpus } from "node:os";
import { readSound } from "../corpus/wav-file.ts";

/** How often each take is timed; the fastest counts, as other work on the machine only slows. */
const REPEATS = 4;

/** A command to be timed; {} stands for the WAV. */
export interface TimedCommand {
  readonly name: string;
  readonly command: string;
}

export interface Speed {
  readonly name: string;
  /** Seconds of sound for each second on the clock, start-up taken off. */
  readonly timesRealTime: number;
  /** The same by the processor's time, which other work on the machine does not slow. */
  readonly timesProcessor: number;
  /** Seconds to start and to read the short take. */
  readonly startSeconds: number;
}

const QUIET = { clock: Number.POSITIVE_INFINITY, processor: Number.POSITIVE_INFINITY };

/** Whether commands can be kept to one core. */
export const canPin = () => spawnSync("taskset", ["-c", lastCore(), "true"]).status === 0;
const lastCore = () => String(cpus().length - 1);

/**
 * Times commands on one core, in turns, so that a busy minute hits all of them: the time for a long take less that for a
 * short one.
 *
 * @param say told of each command that failed
 */
export function speedsOf(
  commands: readonly TimedCommand[],
  longWav: string,
  shortWav: string,
  say: (line: string) => void,
): Speed[] {
  const sound = (wav: string) => {
    const { samples, sampleRateHz } = readSound(wav);
    return samples.length / sampleRateHz;
  };
  const length = sound(longWav) - sound(shortWav);
  const pin = canPin() ? `taskset -c ${lastCore()} ` : "";
  const best = new Map(commands.map(({ name }) => [name, { long: QUIET, short: QUIET }]));
  for (let turn = 0; turn < REPEATS; turn++) {
    for (const { name, command } of commands) {
      const known = best.get(name);
      if (known === undefined) continue;
      const short = timed(pin, command, shortWav);
      const long = timed(pin, command, longWav);
      if (short === null || long === null) {
        say(`${name} failed on a timed take: ${command}`);
        best.delete(name);
      } else best.set(name, { long: least(known.long, long), short: least(known.short, short) });
    }
  }
  return [...best].map(([name, { long, short }]) => ({
    name,
    timesRealTime: length / (long.clock - short.clock),
    timesProcessor: length / (long.processor - short.processor),
    startSeconds: short.clock,
  }));
}

type Times = typeof QUIET;

const least = (a: Times, b: Times): Times => ({
  clock: Math.min(a.clock, b.clock),
  processor: Math.min(a.processor, b.processor),
});

function timed(pin: string, command: string, wav: string): Times | null {
  const line = `TIMEFORMAT='%R %U %S'; time ${pin}${command.replaceAll("{}", `'${wav}'`)} 2>/dev/null`;
  const done = spawnSync("bash", ["-c", line], {
    encoding: "utf8",
    maxBuffer: 2 ** 28,
    env: { ...process.env, LC_ALL: "C" },
  });
  const [clock, user, system] = done.stderr.trim().split("\n").at(-1)?.split(" ").map(Number) ?? [];
  if (done.status !== 0 || clock === undefined || user === undefined || system === undefined) return null;
  return { clock, processor: user + system };
}
