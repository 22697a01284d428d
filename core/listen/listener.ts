import { hzToMidi, midiToHz } from "../pitch/equal-temperament.ts";
import { cents, dbfs, hz, midi, seconds } from "../units.ts";
import { decibels } from "./decibels.ts";
import { DropoutMender } from "./dropout-mender.ts";
import { FrameAnalyser } from "./frame-analyser.ts";
import { type KnownReeds, reedsBeside } from "./known-reeds.ts";
import { LeakFinder } from "./leak-finder.ts";
import type { Frame, HeardNote, Leak, Listening } from "./listening.ts";
import { NoteEdges } from "./note-edges.ts";
import { type FoundNote, NoteFinder } from "./note-finder.ts";
import { isOneChord, isOneReed, joined, type ReadNote } from "./one-chord.ts";
import { type PitchedNote, pitchedNote } from "./pitched-note.ts";
import { SoundIntake } from "./sound-intake.ts";

/** An attack is too faint at first to be called sounding ... */
const SPEAKING_FRAMES = 0.4;
/** ... and a little longer, 8 ms, the window still holds more of what was before. */
const OWN_WINDOW_FRAMES = 1.6;
/** Frames of a note further than this from its pitch were read off its neighbour. */
const OWN_PITCH_SEMITONES = 0.5;

/** A second reed is looked for in the last part of a note, where the one before it rings least. */
const LEAK_FROM_SHARE = 0.4;
const LEAK_SECONDS = 0.17;
const LEAK_BEFORE_END_SECONDS = 0.004;
/** Less is too short to tell two reeds apart. */
const LEAK_LEAST_SECONDS = 0.035;

/**
 * What a listener remembers: all of a take; its notes without the frames, for hours of sound; or nothing, for the live
 * estimate alone.
 */
export type Keeping = "everything" | "notes" | "nothing";

/**
 * Listens while a take is being recorded. What it hears does not depend on how the samples were cut into chunks, and a
 * finished note is read at once, so that little is left to do at the end.
 */
export class Listener {
  private readonly mender: DropoutMender;
  private readonly intake: SoundIntake;
  private readonly analyser: FrameAnalyser;
  private readonly finder: NoteFinder;
  private readonly leaks = new LeakFinder();
  private readonly notes: ReadNote[] = [];
  private stepped = 0;

  /**
   * @param known reeds of the instrument in hand, or null to listen without knowing it
   * @throws RangeError for a sample rate outside 8,000..192,000 Hz
   */
  constructor(
    sampleRateHz: number,
    private readonly keeping: Keeping = "everything",
    private readonly known: KnownReeds | null = null,
  ) {
    this.intake = new SoundIntake(sampleRateHz);
    this.mender = new DropoutMender(sampleRateHz);
    const { halved, factor } = this.intake;
    this.analyser = new FrameAnalyser(halved, sampleRateHz / factor, keeping === "everything", () =>
      this.followNotes(),
    );
    const { track, spectra, binsPerHz, hop } = this.analyser;
    const frameSamples = hop * factor;
    this.finder = new NoteFinder(track, new NoteEdges(spectra, binsPerHz), (found) => {
      if (keeping === "nothing") return;
      const note = pitchedNote(found, track, this.intake.whole, frameSamples, sampleRateHz);
      this.keep({ ...note, leak: this.leakOf(note) });
    });
  }

  /** Newest estimate, for the screen; null before there is one. */
  get liveFrame(): Frame | null {
    const { track } = this.analyser;
    const last = track.length - 1;
    return last < 0 ? null : this.frameAt(last, track.midi.at(last), this.analyser.isReed(last));
  }

  /** The second reed of the note that ended last, with the time it ended; null where there is no note or no such reed. */
  get lastLeak(): { readonly offSeconds: number; readonly leak: Leak } | null {
    const last = this.notes.at(-1);
    if (last === undefined || last.leak === null) return null;
    return { offSeconds: this.secondsAt(last.found.offFrame), leak: last.leak };
  }

  /** How many notes have ended so far. The last may still be joined with what follows it at once. */
  get endedNotes(): number {
    return this.notes.length;
  }

  /** One of the notes that have ended, counted from 0; null where there is none. */
  endedNote(n: number): HeardNote | null {
    const note = this.notes[n];
    return note === undefined ? null : this.heardNote(note, this.notes[n + 1]);
  }

  /** @param samples any number of them, nominally -1..1; what is not finite counts as silence */
  push(samples: Float32Array): void {
    this.take(this.mender.push(samples));
  }

  /** What was heard; the listener is spent afterwards. */
  finish(): Listening {
    const { intake, analyser } = this;
    this.take(this.mender.finish());
    intake.finish();
    const frames = Math.floor(intake.received / intake.factor / analyser.hop) + 1;
    analyser.finish(frames);
    while (this.stepped < frames) this.step();
    this.finder.finish(frames);
    return {
      sampleRateHz: hz(intake.sampleRateHz),
      durationSeconds: seconds(intake.received / intake.sampleRateHz),
      frames: this.keeping === "everything" ? this.frames() : [],
      notes: this.notes.map((note, n) => this.heardNote(note, this.notes[n + 1])),
      latencySeconds: seconds(this.secondsAt(analyser.window / 2 / analyser.hop + 1)),
      peakDbfs: dbfs(decibels(intake.peak ** 2)),
      noiseFloorDbfs: dbfs(analyser.floorDb),
      clippedShare: intake.received > 0 ? intake.clipped / intake.received : 0,
    };
  }

  private take(samples: Float32Array): void {
    this.intake.push(samples, () => this.analyser.catchUp());
  }

  /** The note finder runs a few frames behind, as it looks ahead. */
  private followNotes(): void {
    if (this.analyser.track.length > NoteEdges.ahead) this.step();
  }

  private step(): void {
    const i = this.stepped++;
    this.finder.step(i, this.analyser.isReed(i));
  }

  private keep(note: ReadNote): void {
    const before = this.notes.at(-1);
    if (before !== undefined && (isOneChord(before, note) || isOneReed(before, note)))
      this.notes[this.notes.length - 1] = joined(before, note);
    else this.notes.push(note);
  }

  private leakOf({ found, midi: pitch }: PitchedNote): Leak | null {
    const { halved, sampleRateHz, factor } = this.intake;
    if (pitch === null) return null;
    const on = this.secondsAt(found.onFrame);
    const off = this.secondsAt(found.offFrame);
    const end = off - LEAK_BEFORE_END_SECONDS;
    const start = Math.max(on + LEAK_FROM_SHARE * (off - on), end - LEAK_SECONDS);
    if (end - start < LEAK_LEAST_SECONDS) return null;
    const rate = sampleRateHz / factor;
    const samples = halved.view(Math.round(start * rate), Math.round(end * rate));
    const beside = this.known && reedsBeside(this.known, pitch);
    const reed = this.leaks.find(
      samples,
      rate,
      midiToHz(midi(pitch)),
      end,
      off,
      beside === null ? null : beside.map((reedMidi) => reedMidi - pitch),
    );
    return reed && { pitchMidi: hzToMidi(hz(reed.hz)), levelDb: reed.levelDb };
  }

  private secondsAt(frame: number): number {
    const { intake, analyser } = this;
    return (frame * analyser.hop * intake.factor) / intake.sampleRateHz;
  }

  private frameAt(i: number, pitch: number, voiced: boolean): Frame {
    const { track } = this.analyser;
    return {
      atSeconds: seconds(this.secondsAt(i)),
      pitchHz: Number.isFinite(pitch) ? midiToHz(midi(pitch)) : null,
      voiced,
      clarity: track.clarity.at(i),
      levelDbfs: dbfs(track.levelDb.at(i)),
    };
  }

  /**
   * All frames, told apart by the notes: voiced within a note only, and at its edges, where the window also holds the
   * neighbour, with the nearest pitch that is surely its own.
   */
  private frames(): Frame[] {
    const { track } = this.analyser;
    const pitches = Float64Array.from({ length: track.length }, (_, i) => track.midi.at(i));
    const voiced = new Uint8Array(track.length);
    for (const { found } of this.notes) {
      let nearest = firstOwn(found, pitches);
      const end = Math.min(found.offFrame, track.length);
      for (let i = Math.ceil(found.onFrame + SPEAKING_FRAMES); i < end; i++) {
        const pitch = track.midi.at(i);
        if (Math.abs(pitch - found.midi) <= OWN_PITCH_SEMITONES) nearest = pitch;
        voiced[i] = 1;
        if (i >= found.onFrame + OWN_WINDOW_FRAMES || !Number.isFinite(pitch)) pitches[i] = nearest;
      }
    }
    const frame = (_: unknown, i: number) => this.frameAt(i, pitches[i] as number, voiced[i] === 1);
    return Array.from({ length: track.length }, frame);
  }

  /** @param next the note after it: the edges of two notes are found apart and may overlap by a frame or two */
  private heardNote({ found, ...note }: ReadNote, next: ReadNote | undefined): HeardNote {
    const off = Math.max(found.onFrame, Math.min(found.offFrame, next?.found.onFrame ?? found.offFrame));
    return {
      onSeconds: seconds(this.secondsAt(found.onFrame)),
      offSeconds: seconds(this.secondsAt(off)),
      pitchMidi: note.midi === null ? null : midi(note.midi),
      spreadCents: note.spreadCents === null ? null : cents(note.spreadCents),
      settledSeconds: seconds(this.secondsAt(note.settledFrames)),
      levelDbfs: dbfs(note.levelDb),
      unreadable: note.unreadable,
      leak: note.leak,
    };
  }
}

/** Pitch of the first frame that is surely the note's own; the note's pitch where there is none. */
function firstOwn({ from, to, midi: middle }: FoundNote, pitches: Float64Array): number {
  for (let i = from; i < to; i++) {
    const pitch = pitches[i] as number;
    if (Math.abs(pitch - middle) <= OWN_PITCH_SEMITONES) return pitch;
  }
  return middle;
}
