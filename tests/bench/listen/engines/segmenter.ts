import { hzMidi } from "../corpus/truth.ts";
import type { Sound } from "../corpus/wav-file.ts";
import { median } from "../measures/statistics.ts";
import type { Answer, AnswerNote } from "./answer.ts";

/** Level in dB of the sound around a moment; -120 for silence. */
export function levelAt({ samples, sampleRateHz }: Sound, seconds: number, windowSeconds = 0.01): number {
  const middle = Math.round(seconds * sampleRateHz);
  const half = Math.round((windowSeconds * sampleRateHz) / 2);
  let sum = 0;
  let count = 0;
  for (let i = Math.max(0, middle - half); i < Math.min(samples.length, middle + half); i++) {
    sum += (samples[i] as number) ** 2;
    count++;
  }
  return 10 * Math.log10(sum / (count || 1) + 1e-12);
}

const SHORTEST_SECONDS = 0.03;
const SAME_PITCH = 0.6;
const DIP_DB = 6;

/** A run of frames of one pitch: moments in seconds, and pitches as fractional MIDI numbers. */
interface Run {
  readonly times: number[];
  readonly pitches: number[];
}

const endOf = ({ times }: Run) => times.at(-1) ?? 0;
const startOf = ({ times }: Run) => times[0] ?? 0;

/**
 * Notes from frames, the same for every engine that gives frames only, so that trackers are compared and not segmenters. A
 * note is at least 30 ms of voiced frames within 60 cents of their running median; a dip of 6 dB within a run parts it.
 */
export function notesFromFrames(frames: Answer["frames"], sound: Sound): AnswerNote[] {
  const hop = frames.length > 2 ? (frames[1]?.t ?? 0) - (frames[0]?.t ?? 0) : 0.005;
  const voiced = frames.filter(({ f0 }) => f0 > 0);
  const long = runsOf(voiced, hop).filter((run) => endOf(run) - startOf(run) + hop >= SHORTEST_SECONDS);
  return bridged(long).flatMap((run) => noteParts(run, hop, sound));
}

function runsOf(voiced: Answer["frames"], hop: number): Run[] {
  const runs: Run[] = [];
  for (const { t, f0 } of voiced) {
    const pitch = hzMidi(f0);
    const run = runs.at(-1);
    const goesOn =
      run !== undefined &&
      t - endOf(run) <= 2.5 * hop &&
      Math.abs(pitch - median(run.pitches.slice(-9))) <= SAME_PITCH;
    if (goesOn) {
      run.times.push(t);
      run.pitches.push(pitch);
    } else runs.push({ times: [t], pitches: [pitch] });
  }
  return runs;
}

/** Joins neighbours of the same pitch less than 30 ms apart. */
function bridged(runs: readonly Run[]): Run[] {
  const kept: Run[] = [];
  for (const run of runs) {
    const last = kept.at(-1);
    const near = last !== undefined && startOf(run) - endOf(last) < 0.03;
    if (near && Math.abs(median(run.pitches) - median(last.pitches)) < SAME_PITCH) {
      last.pitches.push(...run.pitches);
      last.times.push(...run.times);
    } else kept.push(run);
  }
  return kept;
}

function noteParts(run: Run, hop: number, sound: Sound): AnswerNote[] {
  const cuts = cutsAtDips(run, sound);
  return cuts.flatMap((from, c) => {
    const to = (cuts[c + 1] ?? run.pitches.length) - 1;
    const on = run.times[from] ?? 0;
    const off = run.times[to] ?? 0;
    if (off - on + hop < SHORTEST_SECONDS) return [];
    const length = to - from + 1;
    const middle = run.pitches.slice(from + Math.floor(length * 0.3), from + Math.ceil(length * 0.85) + 1);
    const pitch = median(middle.length > 0 ? middle : run.pitches.slice(from, to + 1));
    const midi = Math.round(pitch);
    return [{ on, off, midi, cents: (pitch - midi) * 100 }];
  });
}

/** Places where the level falls 6 dB and rises again by 6 dB: the same reed sounded again. */
function cutsAtDips({ times }: Run, sound: Sound): number[] {
  const cuts = [0];
  let peak = Number.NEGATIVE_INFINITY;
  let dip: { db: number; at: number } | null = null;
  for (const [i, at] of times.entries()) {
    const level = levelAt(sound, at);
    if (dip === null && level > peak) peak = level;
    if (level < peak - DIP_DB && level < (dip?.db ?? Number.POSITIVE_INFINITY)) dip = { db: level, at: i };
    if (dip !== null && level > dip.db + DIP_DB) {
      if (at - (times[cuts.at(-1) ?? 0] ?? 0) > 0.04) cuts.push(dip.at);
      dip = null;
      peak = level;
    }
  }
  return cuts;
}
