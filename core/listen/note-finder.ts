import type { FrameTrack } from "./frame-track.ts";
import { median } from "./median.ts";
import { NoteEdges } from "./note-edges.ts";
import { StruckAgain } from "./struck-again.ts";

/** One note as a stretch of frames, fractional. */
export interface FoundNote {
  /** First moment of the attack. */
  readonly onFrame: number;
  /** End of sounding; > onFrame. */
  readonly offFrame: number;
  /** Frames whose pitch was read as this note's: from..to - 1. */
  readonly from: number;
  readonly to: number;
  /** Pitch while it sounded, fractional MIDI; good to a few cents. */
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
/** 30 ms: less cannot be told from the way into the next note. */
const SHORTEST_NOTE_FRAMES = 6;
/** Reeds reach their pitch within about 60 ms, by steps from frame to frame smaller than those between two notes. */
const LONGEST_SCOOP_FRAMES = 12;
const GLIDE_STEP = 0.35;
/**
 * 50 ms: while a note speaks or dies away one of its harmonics may outlast the others and be read as a note. A stretch
 * at such an interval that is shorter than this belongs to its neighbour.
 */
const SHORTEST_OCTAVE_FRAMES = 10;
/** Second, third and fourth harmonic, in semitones: 12 log2 of 2, 3, 4. */
const HARMONIC_INTERVALS = [12, 19.02, 24];
/** What is left of a note in a room is softer than it by this. */
const FADED_DB = 3;
/** Pitches that the next frame is compared with. */
const RECENT_FRAMES = 9;

/** Cuts a stream of frames into notes by their pitch, and repeated notes by their level. */
export class NoteFinder {
  private readonly track: FrameTrack;
  private readonly edges: NoteEdges;
  private readonly again: StruckAgain;
  private readonly found: (note: FoundNote) => void;
  private start = -1;
  private onFrame = -1;
  private recent: number[] = [];
  private pendingStart = -1;
  private pending: number[] = [];
  private gap = 0;
  private lastTo = -1;
  private lastMidi = Number.NaN;
  private lastDb = Number.NaN;
  private hasAttack = true;

  /** @param found told about every note when it has ended, in order */
  constructor(track: FrameTrack, edges: NoteEdges, found: (note: FoundNote) => void) {
    this.track = track;
    this.edges = edges;
    this.again = new StruckAgain(track, edges);
    this.found = found;
  }

  /**
   * Looks at the next frame.
   *
   * @param i    its number; frames up to i + NoteEdges.ahead have been measured, or the take ended
   * @param good whether it seems to hold a reed sound
   */
  step(i: number, good: boolean): void {
    const midi = this.track.midi.at(i);
    if (this.start < 0) this.seek(i, midi, good);
    else this.follow(i, midi, good);
    // Before the spectra around the attack are forgotten.
    if (this.start >= 0 && this.onFrame < 0 && i >= this.start + NoteEdges.ahead) this.placeOnset();
  }

  /** @param end number of frames in the take */
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
      this.continueNote(i, midi);
      return;
    }
    this.gap = good ? 0 : this.gap + 1;
    if (this.gap >= GAP_FRAMES) {
      this.close(i - GAP_FRAMES + 1);
      return;
    }
    this.wait(i, midi, good);
    if (this.pending.length < (isHarmonicOf(midi, middle) ? OCTAVE_RUN_FRAMES : RUN_FRAMES)) return;
    const multiple = harmonicNumber(this.pending[0] ?? middle, middle);
    if (this.isOnlyAnAttack(middle)) this.absorb();
    else if (multiple > 1 && this.edges.soundsOn(middle, multiple, this.pendingStart, i)) {
      this.pending = [];
      this.gap = 0;
    } else {
      const { pendingStart, pending } = this;
      this.close(pendingStart);
      this.open(pendingStart, pending);
    }
  }

  /** Whether what has sounded so far is the way into the waiting pitch: too short for a note, or a glide from below. */
  private isOnlyAnAttack(middle: number): boolean {
    const age = this.pendingStart - this.start;
    if (age < SHORTEST_NOTE_FRAMES) return true;
    const first = this.pending[0] ?? middle;
    if (age < SHORTEST_OCTAVE_FRAMES && isHarmonicOf(first, middle)) return true;
    const step = first - (this.recent.at(-1) ?? middle);
    return age < LONGEST_SCOOP_FRAMES && Math.abs(step) < GLIDE_STEP;
  }

  private absorb(): void {
    this.recent = this.pending.slice(-RECENT_FRAMES);
    this.pending = [];
    this.gap = 0;
  }

  private continueNote(i: number, midi: number): void {
    this.gap = 0;
    this.pending = [];
    this.recent.push(midi);
    if (this.recent.length > RECENT_FRAMES) this.recent.shift();
    const dip = this.again.reboundAt(this.start, i, median(this.recent));
    if (dip === null) return;
    const { recent } = this;
    this.close(dip);
    this.open(dip, recent);
  }

  /** Collects frames that may begin another note. */
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
    this.onFrame = -1;
    this.recent = pitches.slice(-RECENT_FRAMES);
    this.pending = [];
    this.gap = 0;
  }

  private placeOnset(): void {
    const midi = median(this.recent);
    this.onFrame = this.edges.onset(this.start, midi);
    this.hasAttack = this.edges.hasAttack(this.start, midi);
  }

  /** Whether what follows the last note at once is that note or a harmonic of it, dying away. */
  private isLeftOfLast(midi: number, frames: number, levelDb: number): boolean {
    const harmonic = isHarmonicOf(midi, this.lastMidi);
    if (harmonic && frames < SHORTEST_OCTAVE_FRAMES) return true;
    const ofIt = harmonic || Math.abs(midi - this.lastMidi) < SAME_NOTE;
    return ofIt && !this.hasAttack && this.lastDb - levelDb > FADED_DB;
  }

  private close(to: number): void {
    if (this.onFrame < 0) this.placeOnset();
    const { start, onFrame } = this;
    const midi = median(this.recent);
    const offFrame = Math.max(onFrame + 1, this.edges.end(start, to, midi));
    this.start = -1;
    this.pending = [];
    this.gap = 0;
    const levelDb = this.track.levelDb.at((start + to) >> 1);
    const ringing = start === this.lastTo && this.isLeftOfLast(midi, to - start, levelDb);
    this.lastTo = to;
    if (ringing) return;
    this.lastMidi = midi;
    this.lastDb = levelDb;
    this.found({ onFrame, offFrame, from: start, to, midi });
  }
}

/** Whether two pitches, fractional MIDI, stand as the first harmonics of one note do. */
function isHarmonicOf(a: number, b: number): boolean {
  return HARMONIC_INTERVALS.some((interval) => Math.abs(Math.abs(a - b) - interval) < SAME_NOTE);
}

/** Which harmonic of the lower pitch the higher one is: 2, 3 or 4; 1 where it is none of them, or not higher. */
function harmonicNumber(higher: number, lower: number): number {
  return 2 + HARMONIC_INTERVALS.findIndex((interval) => Math.abs(higher - lower - interval) < SAME_NOTE);
}
