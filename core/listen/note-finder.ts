import type { FrameTrack } from "./frame-track.ts";
import type { ShortSpectra } from "./short-spectra.ts";

/** One note as a stretch of frames. */
export interface FoundNote {
  /** Frames, fractional: first moment of the attack and end of sounding. */
  readonly onFrame: number;
  readonly offFrame: number;
  /** Middle pitch, fractional MIDI. */
  readonly midi: number;
}

/** Frames within this of each other, in semitones, belong to one note. */
const SAME_NOTE = 0.6;
/** 20 ms of agreeing frames make a note. */
const RUN_FRAMES = 4;
/** Frames without a reed sound that end a note. */
const GAP_FRAMES = 5;
/** Frames an octave away from the note they interrupt are doubted for longer. */
const OCTAVE_RUN_FRAMES = 8;
/** Re-articulation: the level drops and rises again this much within 25 ms; a 5 Hz tremolo of 35 % rises 4.3 dB. */
const REBOUND_DB = 5.5;
const REBOUND_FRAMES = 5;

/** How far from the change of pitch the attack is looked for, in frames. */
const ONSET_BACK = 8;
const ONSET_AHEAD = 8;
const ONSET_SHARE = 0.05;
/** The change of pitch is seen about 10 ms after the attack began, as the new note first has to outgrow the old one. */
const USUAL_DELAY_FRAMES = 2;

/** Cuts the frame track into notes, a fixed number of frames behind the newest. */
export class NoteFinder {
  private readonly track: FrameTrack;
  private readonly spectra: ShortSpectra;
  private readonly binsPerHz: number;
  private start = -1;
  private recent: number[] = [];
  private pendingStart = -1;
  private pending: number[] = [];
  private gap = 0;
  private lastCut = -1;
  private readonly found: (note: FoundNote) => void;

  constructor(track: FrameTrack, spectra: ShortSpectra, binsPerHz: number, found: (note: FoundNote) => void) {
    this.track = track;
    this.spectra = spectra;
    this.binsPerHz = binsPerHz;
    this.found = found;
  }

  /** @param good whether frame i seems to hold a reed sound */
  step(i: number, good: boolean): void {
    const midi = this.track.midi.at(i);
    if (this.start < 0) this.seek(i, midi, good);
    else this.follow(i, midi, good);
  }

  finish(end: number): void {
    if (this.start >= 0) this.close(end);
  }

  private seek(i: number, midi: number, good: boolean): void {
    this.wait(i, midi, good);
    if (this.pending.length >= RUN_FRAMES) this.open(this.pendingStart, this.pending);
  }

  private follow(i: number, midi: number, good: boolean): void {
    const middle = median(this.recent);
    if (good && Math.abs(midi - middle) <= SAME_NOTE) {
      this.gap = 0;
      this.pending = [];
      this.recent.push(midi);
      if (this.recent.length > 9) this.recent.shift();
      this.checkRebound(i);
      return;
    }
    this.gap = good ? 0 : this.gap + 1;
    if (this.gap >= GAP_FRAMES) {
      this.close(i - GAP_FRAMES + 1);
      return;
    }
    this.wait(i, midi, good);
    const octave = Math.abs(Math.abs(midi - middle) - 12) < SAME_NOTE;
    if (this.pending.length >= (octave ? OCTAVE_RUN_FRAMES : RUN_FRAMES)) {
      const { pendingStart, pending } = this;
      this.close(pendingStart);
      this.open(pendingStart, pending);
    }
  }

  private wait(i: number, midi: number, good: boolean): void {
    if (!good) {
      if (this.gap > 2 || this.start < 0) this.pending = [];
      return;
    }
    if (this.pending.length > 0 && Math.abs(midi - median(this.pending)) > SAME_NOTE) this.pending = [];
    if (this.pending.length === 0) this.pendingStart = i;
    this.pending.push(midi);
  }

  private open(at: number, pitches: readonly number[]): void {
    this.start = at;
    this.lastCut = at;
    this.recent = pitches.slice(-9);
    this.pending = [];
    this.gap = 0;
  }

  private checkRebound(i: number): void {
    const level = this.track.shortDb;
    const dip = i - REBOUND_FRAMES;
    if (dip - this.lastCut < 8) return;
    if (level.at(i) - level.at(dip) < REBOUND_DB) return;
    let low = dip;
    for (let j = dip - 4; j <= dip + 2; j++) if (level.at(j) < level.at(low)) low = j;
    let before = -200;
    for (let j = low - 12; j < low; j++) before = Math.max(before, level.at(j));
    if (before - level.at(low) < REBOUND_DB) return;
    const pitches = this.recent;
    this.close(low);
    this.open(low, pitches);
  }

  private close(end: number): void {
    const midi = this.settledMidi(this.start, end);
    const on = this.onset(this.start, midi);
    this.found({ onFrame: on, offFrame: Math.max(end, on), midi });
    this.start = -1;
    this.pending = [];
    this.recent = [];
    this.gap = 0;
  }

  private settledMidi(start: number, end: number): number {
    const values: number[] = [];
    const length = end - start;
    for (let i = Math.floor(start + length * 0.3); i < end - length * 0.15; i++) {
      const midi = this.track.midi.at(i);
      if (Number.isFinite(midi)) values.push(midi);
    }
    return values.length > 0 ? median(values) : median(this.recent);
  }

  /**
   * First moment of the attack, in frames: where the strength of the note's own harmonics has risen by a small share of
   * the way. Looked for close to the frame where the pitch changed, as only that is sure to belong to this note.
   */
  private onset(near: number, midi: number): number {
    const hz = 440 * 2 ** ((midi - 69) / 12);
    const from = near - ONSET_BACK;
    const strengths: number[] = [];
    for (let i = from; i <= near + ONSET_AHEAD; i++) strengths.push(this.strength(i, hz));
    const at = (j: number) => strengths[j] as number;
    let low = 0;
    for (let j = 0; j <= ONSET_BACK; j++) if (at(j) <= at(low)) low = j;
    let high = low;
    for (let j = low; j < strengths.length; j++) if (at(j) > at(high)) high = j;
    const rise = at(high) - at(low);
    if (rise < 0.3 * at(high)) return near - USUAL_DELAY_FRAMES;
    let j = low;
    while (j < high && at(j + 1) < at(low) + 0.5 * rise) j++;
    const mark = at(low) + ONSET_SHARE * rise;
    while (j > low && at(j) > mark) j--;
    return from + j + (mark - at(j)) / Math.max(1e-9, at(j + 1) - at(j));
  }

  private strength(frame: number, hz: number): number {
    const spectrum = this.spectra.at(frame);
    let sum = 0;
    for (let k = 1; k <= 10; k++) {
      const bin = k * hz * this.binsPerHz;
      if (bin > spectrum.length - 2) break;
      const near = Math.round(bin);
      sum += Math.max(spectrum[near] as number, spectrum[near + 1] as number, spectrum[near - 1] as number);
    }
    return sum;
  }
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] ?? Number.NaN)) / 2;
}
