import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { playRecordedHarmonica } from "../../outside/fluidsynth.ts";
import { expressionFor } from "../../outside/midi-bytes.ts";
import { type PraatFrame, praatPitch } from "../../outside/praat.ts";
import { readSound } from "../listen/corpus/wav-file.ts";
import { median } from "../listen/measures/statistics.ts";

/** What the recorded reeds do by themselves, measured once: by Praat for pitch, by plain RMS for the rest. Plain data. */
export interface MeasuredReeds {
  readonly frames: readonly PraatFrame[];
  /** RMS of each held key from `LOWEST_KEY` on, samples in -1..1, with `EVEN_DB` of expression. */
  readonly held: readonly number[];
  /** From the start of a note to the first moment of its attack; the middle over all keys. */
  readonly attackSeconds: number;
}

export const LOWEST_KEY = 55;
/** Where the samples of the font end. */
export const HIGHEST_KEY = 96;
const KEYS = Array.from({ length: HIGHEST_KEY - LOWEST_KEY + 1 }, (_, k) => LOWEST_KEY + k);
const HELD_SECONDS = 1.5;
const STEP_SECONDS = 2;
/** FluidSynth's gain; two reeds at once stay clear of full scale, attacks included. */
export const GAIN = 3;
/** Keys are recorded up to 4 dB apart: at this expression there is room to even them out and for a louder second reed. */
export const EVEN_DB = -10;
/** Half of Praat's window: nearer to the end of a note it would hear what follows. */
const PRAAT_EDGE_SECONDS = 0.014;
/** A reed whose pitch still moves more than this in the second half of a note has no pitch of its own there. */
const SETTLED_CENTS = 4;
/** A note has begun to sound where it reaches -20 dB of its held level, as the takes of the listening bench count it. */
const ATTACK_SHARE = 0.1;

/** Plays every key of the font alone, unbent, and measures it. */
export function measureReeds(): MeasuredReeds {
  const folder = mkdtempSync(path.join(tmpdir(), "bench-reeds-"));
  try {
    const notes = KEYS.map((key) => {
      const onSeconds = onsetOf(key);
      return { key, onSeconds, offSeconds: onSeconds + HELD_SECONDS, expression: expressionFor(EVEN_DB) };
    });
    const file = playRecordedHarmonica(folder, "reeds", notes, GAIN);
    const { samples, sampleRateHz } = readSound(file);
    const held = notes.map(({ onSeconds }) => rms(samples, sampleRateHz, onSeconds + 0.4, onSeconds + 1.4));
    const attacks = notes.map(({ onSeconds }, k) => attackOf(samples, sampleRateHz, onSeconds, held[k] ?? 0));
    return { frames: praatPitch(file), held, attackSeconds: median(attacks) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const onsetOf = (key: number) => 1 + (key - LOWEST_KEY) * STEP_SECONDS;

/** What is asked of measured reeds, note by note. */
export class Reeds {
  readonly attackSeconds: number;
  /** Level of an ordinary note: all keys are played as loud as the loudest. */
  readonly toneRms: number;
  private readonly measured: MeasuredReeds;
  private readonly known = new Map<string, number | null>();

  constructor(measured: MeasuredReeds) {
    this.measured = measured;
    this.attackSeconds = measured.attackSeconds;
    this.toneRms = Math.max(...measured.held);
  }

  /** Level of a held key against an ordinary note. */
  levelDb(key: number): number {
    return 20 * Math.log10((this.measured.held[key - LOWEST_KEY] ?? this.toneRms) / this.toneRms);
  }

  /** Pitch of a note of this length, cents from its key; null where the reed has not settled by its second half. */
  ownCents(key: number, lengthSeconds: number): number | null {
    const name = `${key} ${lengthSeconds.toFixed(3)}`;
    const before = this.known.get(name);
    if (before !== undefined) return before;
    const cents = ownCents(this.measured.frames, key, lengthSeconds);
    this.known.set(name, cents);
    return cents;
  }
}

/** Samples are the same from their start whenever a key is struck, so the beginning of a long note is a short note. */
function ownCents(frames: readonly PraatFrame[], key: number, lengthSeconds: number): number | null {
  const on = onsetOf(key);
  const length = Math.min(lengthSeconds, HELD_SECONDS);
  const settled = frames
    .filter(({ atSeconds }) => atSeconds >= on + length / 2 && atSeconds <= on + length - PRAAT_EDGE_SECONDS)
    .map(({ hz }) => 100 * (69 + 12 * Math.log2(hz / 440) - key));
  if (settled.length < 3 || Math.max(...settled) - Math.min(...settled) > SETTLED_CENTS) return null;
  return median(settled);
}

function attackOf(samples: Float32Array, rate: number, onSeconds: number, held: number): number {
  const window = 0.003;
  for (let at = 0; at < 0.1; at += 0.0005) {
    if (rms(samples, rate, onSeconds + at - window, onSeconds + at + window) > ATTACK_SHARE * held) return at;
  }
  return 0.1;
}

function rms(samples: Float32Array, rate: number, fromSeconds: number, toSeconds: number): number {
  const from = Math.round(fromSeconds * rate);
  const to = Math.round(toSeconds * rate);
  let sum = 0;
  for (let i = from; i < to; i++) sum += (samples[i] ?? 0) ** 2;
  return Math.sqrt(sum / (to - from));
}
