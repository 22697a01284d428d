import type { FrameTrack } from "./frame-track.ts";
import { fitHarmonics } from "./harmonic-fit.ts";
import { median, quantile } from "./median.ts";
import type { FoundNote } from "./note-finder.ts";

/** The settled part of a note, in frames, fractional, and its middle pitch. */
export interface SettledPart {
  readonly from: number;
  readonly to: number;
  /** Median over its frames, fractional MIDI. */
  readonly midi: number;
  /** Middle between its lowest and highest frames: of a vibrato, whose median depends on where it is cut. */
  readonly swingMidi: number;
  /** Interquartile range over its frames. */
  readonly spreadCents: number;
}

/** Frames this close to the middle pitch count as settled: far more than a steady reed wavers, less than a scoop. */
const SETTLED_SEMITONES = 0.04;
/** The old note may ring on for 20 ms into the new one. */
const AFTER_ONSET_FRAMES = 4;
/** Below this share explained by one steady pitch, there is none: vibrato, a bend under way. */
const LEAST_STEADINESS = 0.6;

/** Share of frames at either end that may be stray readings. */
const SWING_EDGE = 0.05;

/**
 * The part of a note where its pitch has arrived and stays: around the middle of the note, as far to either side as
 * frames agree with it.
 *
 * @returns null where no frame of the note has a pitch
 */
export function settledPart(track: FrameTrack, note: FoundNote): SettledPart | null {
  const first = Math.max(note.from, Math.ceil(note.onFrame + AFTER_ONSET_FRAMES));
  const last = Math.min(note.to, Math.ceil(note.offFrame)) - 1;
  const length = last - first + 1;
  const plain = withoutScoop(track, Math.floor(first + 0.3 * length), Math.ceil(last - 0.15 * length));
  const core = pitches(track, plain.from, plain.to);
  if (core.length === 0) return null;
  const middle = median(core);
  const tolerance = Math.max(SETTLED_SEMITONES, quantile(core, 0.9) - quantile(core, 0.1));
  const agrees = (i: number) => Math.abs(track.midi.at(i) - middle) <= tolerance;
  let from = Math.floor((plain.from + plain.to) / 2);
  let to = from;
  while (from > first && (agrees(from - 1) || agrees(from - 2))) from--;
  while (to < last && (agrees(to + 1) || agrees(to + 2))) to++;
  const settled = pitches(track, from, to);
  if (settled.length === 0) return null;
  return {
    from,
    to: Math.min(to + 1, note.offFrame),
    midi: median(settled),
    swingMidi: (quantile(settled, SWING_EDGE) + quantile(settled, 1 - SWING_EDGE)) / 2,
    spreadCents: 100 * (quantile(settled, 0.75) - quantile(settled, 0.25)),
  };
}

/** A half that wanders this many times as far as the other is the way to the note, or off it. */
const WANDERING = 3;
/** A part shorter than 30 ms is not halved further. */
const LEAST_HALF_FRAMES = 6;

/**
 * Cuts the way to a pitch, and the way off it, from a stretch of frames: as long as one half wanders several times as
 * far as the other, only the steady half is kept. A vibrato wanders alike in both halves and stays whole.
 */
function withoutScoop(track: FrameTrack, from: number, to: number): { from: number; to: number } {
  const middle = (from + to) >> 1;
  if (middle - from < LEAST_HALF_FRAMES || to - middle < LEAST_HALF_FRAMES) return { from, to };
  const early = swing(pitches(track, from, middle));
  const late = swing(pitches(track, middle, to));
  if (Math.max(early, late) <= SETTLED_SEMITONES) return { from, to };
  if (early > WANDERING * late) return withoutScoop(track, middle, to);
  if (late > WANDERING * early) return withoutScoop(track, from, middle);
  return { from, to };
}

const swing = (values: readonly number[]) =>
  values.length === 0 ? 0 : quantile(values, 0.9) - quantile(values, 0.1);

function pitches(track: FrameTrack, from: number, to: number): number[] {
  const values: number[] = [];
  for (let i = from; i <= to; i++) if (Number.isFinite(track.midi.at(i))) values.push(track.midi.at(i));
  return values;
}

/**
 * Pitch of the settled part by the harmonic fit over its samples, or from its frames where no one steady pitch
 * explains it.
 *
 * @param samples the settled part
 * @returns fractional MIDI
 */
export function settledMidi(part: SettledPart, samples: Float64Array, rateHz: number): number {
  const guessHz = 440 * 2 ** ((part.midi - 69) / 12);
  const fit = fitHarmonics(samples, rateHz, guessHz);
  if (fit === null) return part.midi;
  if (fit.steadiness < LEAST_STEADINESS) return unsteadyMidi(part);
  return 69 + 12 * Math.log2(fit.hz / 440);
}

/** The middle of a swing lies within its middle half; elsewhere stray readings have drawn it away. */
function unsteadyMidi({ midi, swingMidi, spreadCents }: SettledPart): number {
  return Math.abs(swingMidi - midi) * 100 <= spreadCents / 2 ? swingMidi : midi;
}
