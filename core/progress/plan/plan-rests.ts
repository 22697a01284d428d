import type { PlanLine, PlayedLine } from "./plan-shape.ts";
import { minutesInWords } from "./plan-words.ts";

/** Nobody plays on for longer than this without a rest: 10 to 15 minutes are common practice, no source. */
export const LONGEST_RUN_MINUTES = 15;
export const REST_MINUTES = 2;

/**
 * Lines for the minutes there are, with as few rests as keep every run of playing to a quarter of an hour, and those where they
 * make the runs most alike.
 *
 * @param minutes with the rests
 * @param fill    gives the lines for so many minutes of playing
 */
export function withRests(
  minutes: number,
  fill: (playingMinutes: number) => readonly PlayedLine[],
): readonly PlanLine[] {
  for (let rests = 0; ; rests++) {
    const lines = fill(Math.max(0, minutes - rests * REST_MINUTES));
    const runs = evenRuns(lines, rests + 1);
    const longest = Math.max(0, ...runs.map(minutesOf));
    // Lines cannot be rested between more often than they have joints.
    if (longest <= LONGEST_RUN_MINUTES || rests >= lines.length - 1) return joined(runs);
  }
}

const minutesOf = (run: readonly PlayedLine[]) => run.reduce((sum, line) => sum + line.minutes, 0);

function joined(runs: readonly (readonly PlayedLine[])[]): readonly PlanLine[] {
  return runs.flatMap((run, place): readonly PlanLine[] => {
    const before = runs[place - 1];
    if (before === undefined) return run;
    const why = `${minutesInWords(minutesOf(before))} played: put the harp down, breathe normally`;
    return [{ kind: "rest", number: place, minutes: REST_MINUTES, why }, ...run];
  });
}

/** Cuts lines into so many runs, none empty as long as there are lines for all, the longest of them as short as can be. */
function evenRuns(lines: readonly PlayedLine[], count: number): readonly (readonly PlayedLine[])[] {
  const wanted = Math.max(1, Math.min(count, lines.length));
  for (let most = Math.ceil(minutesOf(lines) / wanted); ; most++) {
    const runs = packed(lines, wanted, most);
    if (runs.length <= wanted) return runs;
  }
}

/** Runs of at most so many minutes, one after the other; the last lines are a run each where there would be too few. */
function packed(
  lines: readonly PlayedLine[],
  wanted: number,
  most: number,
): readonly (readonly PlayedLine[])[] {
  const runs: PlayedLine[][] = [];
  for (const [place, line] of lines.entries()) {
    const open = runs.at(-1);
    const isFull = open === undefined || minutesOf(open) + line.minutes > most;
    if (isFull || lines.length - place <= wanted - runs.length) runs.push([line]);
    else open.push(line);
  }
  return runs;
}
