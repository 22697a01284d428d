import { decibels } from "../decibels.ts";
import { RealFft } from "../real-fft.ts";

/** A stretch of one sound, in seconds, roughly: the attack is looked for again. */
export interface Stroke {
  readonly fromSeconds: number;
  readonly toSeconds: number;
}

const HOP_SECONDS = 0.005;
/** Long enough to tell most harmonics of a chord apart, short enough to see a breath turn. */
const WINDOW_SECONDS = 0.032;
const LOWEST_HZ = 120;
const HIGHEST_HZ = 5000;
/** What lies further below the loudest part of the take is no playing. */
const RANGE_DB = 40;
/** A stroke stands this far above the room; and a room louder than so much below the loudest is taken for playing. */
const ABOVE_ROOM_DB = 8;
const ROOM_BELOW_DB = 32;
/** Frames that are compared with each other, before and after a moment: 50 ms apart, so that their windows do not meet. */
const BEFORE = 4;
const AFTER = 5;
/** A stroke begins where the spectrum has risen by this much on the whole, dB. */
const RISE_DB = 3;
/** Bins so far below their frame say nothing; and of one bin no more than this counts, up and down. */
const BIN_RANGE_DB = 35;
const MOST_RISE_DB = 20;
const MOST_FALL_DB = 6;
/** Two strokes are at least this far apart; dances have nothing quicker than 100 ms. */
const APART_SECONDS = 0.07;
/** A stroke has ended where its level has fallen by this much. */
const FALL_DB = 14;
const SHORTEST_SECONDS = 0.035;

/** Where strokes begin and end in a take. */
export function findStrokes(samples: Float64Array, rateHz: number): readonly Stroke[] {
  const { logs, levels } = framesOf(samples, rateHz);
  const loudest = levels.reduce((most, level) => Math.max(most, level), -200);
  const floor = Math.max(loudest - RANGE_DB, roomDb(levels, loudest) + ABOVE_ROOM_DB);
  const begins = onsets(logs, levels, floor);
  return begins.flatMap((from, place) => {
    const to = endOf(levels, from, begins[place + 1] ?? levels.length, floor);
    const stroke = { fromSeconds: from * HOP_SECONDS, toSeconds: to * HOP_SECONDS };
    return stroke.toSeconds - stroke.fromSeconds < SHORTEST_SECONDS ? [] : [stroke];
  });
}

interface Frames {
  /** Levels of the bins of each frame, dB. */
  readonly logs: readonly Float32Array[];
  /** Level of each frame, dB. */
  readonly levels: Float32Array;
}

function framesOf(samples: Float64Array, rateHz: number): Frames {
  const window = Math.round(WINDOW_SECONDS * rateHz);
  let size = 256;
  while (size < window) size *= 2;
  const shape = Float64Array.from(
    { length: window },
    (_, i) => (2 / window) * (1 - Math.cos((2 * Math.PI * (i + 0.5)) / window)) * 0.5,
  );
  const fft = new RealFft(size);
  const windowed = new Float64Array(size);
  const power = new Float64Array(size / 2 + 1);
  const from = Math.ceil((LOWEST_HZ * size) / rateHz);
  const to = Math.floor((HIGHEST_HZ * size) / rateHz);
  const count = Math.floor(samples.length / rateHz / HOP_SECONDS) + 1;
  const levels = new Float32Array(count);
  const logs: Float32Array[] = [];
  for (let frame = 0; frame < count; frame++) {
    const start = Math.round(frame * HOP_SECONDS * rateHz - window / 2);
    for (let i = 0; i < window; i++) windowed[i] = (samples[start + i] ?? 0) * (shape[i] as number);
    fft.power(windowed, power);
    const log = new Float32Array(to - from + 1);
    let sum = 0;
    for (let k = from; k <= to; k++) {
      log[k - from] = decibels(power[k] as number);
      sum += power[k] as number;
    }
    levels[frame] = decibels(sum);
    logs.push(log);
  }
  return { logs, levels };
}

/** Level of the quietest twentieth of the take: the room, where there is ever nothing else, and no louder than that may be. */
function roomDb(levels: Float32Array, loudest: number): number {
  const sorted = levels.slice().sort();
  return Math.min(sorted[Math.floor(sorted.length / 20)] ?? -200, loudest - ROOM_BELOW_DB);
}

function onsets(logs: readonly Float32Array[], levels: Float32Array, floor: number): readonly number[] {
  const rises = logs.map((_, frame) => riseAt(logs, levels, frame, floor));
  const found: number[] = [];
  const apart = Math.round(APART_SECONDS / HOP_SECONDS);
  for (let frame = 0; frame < rises.length; frame++) {
    const rise = rises[frame] ?? 0;
    if (rise < RISE_DB) continue;
    const around = rises.slice(Math.max(0, frame - apart / 2), frame + apart / 2 + 1);
    if (around.some((other) => other > rise)) continue;
    const last = found.at(-1);
    if (last !== undefined && frame - last < apart) {
      if ((rises[last] ?? 0) < rise) found[found.length - 1] = frame;
    } else found.push(frame);
  }
  return found;
}

/** How much the bins that matter have risen about a frame, dB on the whole. */
function riseAt(logs: readonly Float32Array[], levels: Float32Array, frame: number, floor: number): number {
  const after = logs[Math.min(logs.length - 1, frame + AFTER)];
  const before = logs[Math.max(0, frame - BEFORE)];
  if (after === undefined || before === undefined) return 0;
  const loud = levels[Math.min(logs.length - 1, frame + AFTER)] ?? -200;
  if (loud < floor) return 0;
  const least = loud - BIN_RANGE_DB;
  let [sum, weight] = [0, 0];
  for (let k = 0; k < after.length; k++) {
    const now = Math.max(after[k] as number, least);
    const old = Math.max(before[k] as number, least);
    const share = (now - least) / BIN_RANGE_DB;
    sum += share * Math.min(MOST_RISE_DB, Math.max(-MOST_FALL_DB, now - old));
    weight += share;
  }
  return weight < 1e-6 ? 0 : sum / weight;
}

/** First frame, at most `until`, in which the level has fallen away. */
function endOf(levels: Float32Array, from: number, until: number, floor: number): number {
  let most = -200;
  for (let frame = from; frame < until; frame++) {
    const level = levels[frame] ?? -200;
    most = Math.max(most, level);
    if (frame > from + AFTER && (level < most - FALL_DB || level < floor)) return frame;
  }
  return until;
}
