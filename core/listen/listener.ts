import { hzToMidi, midiToHz } from "../pitch/equal-temperament.ts";
import { cents, dbfs, hz, midi, seconds } from "../units.ts";
import { FrameTrack } from "./frame-track.ts";
import { HalfBand } from "./half-band.ts";
import type { Frame, HeardNote, Listening, UnreadableReason } from "./listening.ts";
import { NoteEdges } from "./note-edges.ts";
import { type FoundNote, NoteFinder } from "./note-finder.ts";
import { PitchReader } from "./pitch-reader.ts";
import { SampleHistory } from "./sample-history.ts";
import { settledMidi, settledPart } from "./settled-pitch.ts";
import { ShortSpectra } from "./short-spectra.ts";

const HOP_SECONDS = 0.005;
/** As long as the lowest notes need and fast notes allow: 2048 samples at 48 kHz. */
const WINDOW_SECONDS = 0.0427;
const SHORT_WINDOW_SECONDS = 0.0213;
/** C3 less a wide bend, to G7 and a little above. */
const LOWEST_HZ = 115;
const HIGHEST_HZ = 3400;
/** Frames the note finder runs behind the newest. */
const LOOKAHEAD = NoteEdges.ahead;
/** Samples are taken on in blocks of this many, so that results cannot depend on the caller's chunks. */
const BLOCK = 1024;
/** How far back samples are kept for the harmonic fit; a longer note is judged by its last part. */
const HISTORY_SECONDS = 2;
const SPECTRA_KEPT = 128;
/** A reed sounds where the window repeats itself at least this much ... */
const REED_CLARITY = 0.4;
/** ... and stands this far above the room. */
const ABOVE_FLOOR_DB = 6;
/** Share of the way the floor rises in each frame: within about 50 ms. */
const FLOOR_RISE = 0.1;
/** Nothing quieter is taken for a reed: it is the last bit of a 16-bit recording. */
const QUIETEST_DBFS = -80;
/** A pitch that rests on less is not given. */
const SHORTEST_SETTLED_SECONDS = 0.03;
/** In its first half frame an attack is too faint to be called sounding. */
const SPEAKING_FRAMES = 0.5;
/** Frames of a note further than this from its pitch were read off its neighbour. */
const OWN_PITCH_SEMITONES = 0.5;
/** Share of a full-scale reading that counts as clipped: the largest 16-bit value. */
const FULL_SCALE = 32_767 / 32_768;

/** A found note with its settled pitch. */
interface ReadNote {
  readonly found: FoundNote;
  readonly midi: number | null;
  readonly spreadCents: number | null;
  readonly settledFrames: number;
  readonly levelDb: number;
  readonly unreadable: UnreadableReason | null;
}

/**
 * Listens while a take is being recorded. What it hears does not depend on how the samples were cut into chunks, and a
 * finished note is read at once, so that little is left to do at the end.
 */
export class Listener {
  private readonly sampleRateHz: number;
  private readonly factor: number;
  private readonly rate: number;
  private readonly hop: number;
  private readonly halves: readonly HalfBand[];
  private readonly whole: SampleHistory;
  private readonly history: SampleHistory;
  private readonly reader: PitchReader;
  private readonly spectra: ShortSpectra;
  private readonly track = new FrameTrack();
  private readonly finder: NoteFinder;
  private readonly notes: ReadNote[] = [];
  private readonly windowSamples: Float64Array;
  private readonly shortSamples: Float64Array;
  private readonly block = new Float64Array(BLOCK);
  private blockCount = 0;
  private received = 0;
  private peak = 0;
  private clipped = 0;
  private floorDb: number | null = null;
  private stepped = 0;

  /** @throws RangeError for a sample rate outside 8,000..192,000 Hz */
  constructor(sampleRateHz: number) {
    if (!(sampleRateHz >= 8000 && sampleRateHz <= 192_000)) {
      throw new RangeError(`a sample rate of ${sampleRateHz} Hz; 8000 to 192000 are supported`);
    }
    this.sampleRateHz = sampleRateHz;
    this.factor = halvings(sampleRateHz);
    this.rate = sampleRateHz / this.factor;
    this.hop = Math.round(HOP_SECONDS * this.rate);
    this.halves = Array.from({ length: Math.log2(this.factor) }, () => new HalfBand());
    const window = nearestPowerOfTwo(WINDOW_SECONDS * this.rate);
    const short = nearestPowerOfTwo(SHORT_WINDOW_SECONDS * this.rate);
    this.whole = new SampleHistory(Math.round(HISTORY_SECONDS * sampleRateHz));
    this.history = new SampleHistory(Math.max(4 * window, 4 * BLOCK));
    this.reader = new PitchReader(
      window,
      this.rate / HIGHEST_HZ,
      Math.min(this.rate / LOWEST_HZ, window / 2),
    );
    this.spectra = new ShortSpectra(short, SPECTRA_KEPT);
    this.windowSamples = new Float64Array(window);
    this.shortSamples = new Float64Array(short);
    const edges = new NoteEdges(this.spectra, short / this.rate);
    this.finder = new NoteFinder(this.track, edges, (note) => this.notes.push(this.readNote(note)));
  }

  /** Newest estimate, for the screen; null before there is one. */
  get liveFrame(): Frame | null {
    const last = this.track.length - 1;
    return last < 0 ? null : this.frameAt(last, this.track.midi.at(last), this.isGood(last));
  }

  /** @param samples any number of them, nominally -1..1; what is not finite counts as silence */
  push(samples: Float32Array): void {
    for (let at = 0; at < samples.length; ) {
      const count = Math.min(BLOCK - this.blockCount, samples.length - at);
      this.block.set(samples.subarray(at, at + count), this.blockCount);
      this.blockCount += count;
      at += count;
      if (this.blockCount === BLOCK) this.takeOn();
    }
    this.received += samples.length;
  }

  /** What was heard; the listener is spent afterwards. */
  finish(): Listening {
    this.takeOn();
    this.drain();
    const frames = Math.floor(this.received / this.factor / this.hop) + 1;
    while (this.track.length < frames) this.analyse();
    while (this.stepped < frames) this.step();
    this.finder.finish(frames);
    return {
      sampleRateHz: hz(this.sampleRateHz),
      durationSeconds: seconds(this.received / this.sampleRateHz),
      frames: this.frames(),
      notes: this.notes.map((note) => this.heardNote(note)),
      latencySeconds: seconds((this.windowSamples.length / 2 + this.hop) / this.rate),
      peakDbfs: dbfs(decibels(this.peak ** 2)),
      noiseFloorDbfs: dbfs(this.floorDb ?? QUIETEST_DBFS),
      clippedShare: this.received > 0 ? this.clipped / this.received : 0,
    };
  }

  private takeOn(): void {
    let chunk: Float64Array = this.block.subarray(0, this.blockCount);
    this.blockCount = 0;
    this.check(chunk);
    this.whole.push(chunk);
    for (const half of this.halves) chunk = half.push(chunk);
    this.history.push(chunk);
    const reach = this.windowSamples.length / 2;
    while (this.track.length * this.hop + reach <= this.history.end) this.analyse();
  }

  /** Counts clipped samples and silences what is no number. */
  private check(chunk: Float64Array): void {
    let { peak, clipped } = this;
    for (let i = 0; i < chunk.length; i++) {
      const size = Math.abs(chunk[i] as number);
      if (!(size < Number.POSITIVE_INFINITY)) chunk[i] = 0;
      else if (size > peak) peak = size;
      if (size >= FULL_SCALE && size < Number.POSITIVE_INFINITY) clipped++;
    }
    this.peak = peak;
    this.clipped = clipped;
  }

  /** Gets the last samples out of the filters. */
  private drain(): void {
    let tail = new Float64Array(0);
    for (const half of this.halves) {
      const first = Float64Array.from(half.push(tail));
      const last = half.finish();
      tail = new Float64Array(first.length + last.length);
      tail.set(first);
      tail.set(last, first.length);
    }
    this.history.push(tail);
  }

  private analyse(): void {
    const centre = this.track.length * this.hop;
    const { track, reader, windowSamples, shortSamples } = this;
    this.history.copy(centre - windowSamples.length / 2, windowSamples);
    this.history.copy(centre - shortSamples.length / 2, shortSamples);
    reader.read(windowSamples);
    this.spectra.push(shortSamples);
    const level = decibels(reader.power);
    track.midi.push(reader.periodSamples > 0 ? hzToMidi(hz(this.rate / reader.periodSamples)) : Number.NaN);
    track.clarity.push(reader.clarity);
    track.levelDb.push(level);
    track.shortDb.push(decibels(meanSquareOfMiddle(shortSamples)));
    const inside =
      centre >= windowSamples.length / 2 && centre + windowSamples.length / 2 <= this.history.end;
    if (inside) this.followFloor(level, reader.periodicity);
    track.floorDb.push(this.floorDb ?? QUIETEST_DBFS);
    if (track.length > LOOKAHEAD) this.step();
  }

  /**
   * The room: falls at once with the level, and rises slowly while nothing periodic sounds. Until something aperiodic
   * has been heard, a take that begins within a note tells nothing about it.
   */
  private followFloor(level: number, periodicity: number): void {
    const aperiodic = periodicity < REED_CLARITY;
    if (this.floorDb === null) this.floorDb = aperiodic ? level : null;
    else if (level < this.floorDb) this.floorDb = level;
    else if (aperiodic) this.floorDb += FLOOR_RISE * (level - this.floorDb);
  }

  private step(): void {
    const i = this.stepped++;
    this.finder.step(i, this.isGood(i));
  }

  private isGood(i: number): boolean {
    const { track } = this;
    if (!Number.isFinite(track.midi.at(i)) || track.clarity.at(i) < REED_CLARITY) return false;
    return track.levelDb.at(i) > Math.max(QUIETEST_DBFS, track.floorDb.at(i) + ABOVE_FLOOR_DB);
  }

  private readNote(found: FoundNote): ReadNote {
    const levelDb = this.track.levelDb.at(Math.round((found.from + found.offFrame) / 2));
    const part = settledPart(this.track, found);
    const nothing = { found, midi: null, spreadCents: null, settledFrames: 0, levelDb };
    if (part === null) return { ...nothing, unreadable: "no steady pitch" };
    const settledFrames = part.to - part.from;
    if (settledFrames * this.hop < SHORTEST_SETTLED_SECONDS * this.rate) {
      return { ...nothing, settledFrames, unreadable: "too short" };
    }
    const perFrame = this.hop * this.factor;
    const samples = this.whole.view(Math.round(part.from * perFrame), Math.round(part.to * perFrame));
    const { spreadCents } = part;
    return {
      found,
      midi: settledMidi(part, samples, this.sampleRateHz),
      spreadCents,
      settledFrames,
      levelDb,
      unreadable: null,
    };
  }

  private frameAt(i: number, pitch: number, voiced: boolean): Frame {
    return {
      atSeconds: seconds((i * this.hop) / this.rate),
      pitchHz: Number.isFinite(pitch) ? midiToHz(midi(pitch)) : null,
      voiced,
      clarity: this.track.clarity.at(i),
      levelDbfs: dbfs(this.track.levelDb.at(i)),
    };
  }

  /**
   * All frames, told apart by the notes: voiced within a note only, and at its edges, where the window also holds the
   * neighbour, with the nearest pitch that is surely its own.
   */
  private frames(): Frame[] {
    const { track } = this;
    const pitches = Float64Array.from({ length: track.length }, (_, i) => track.midi.at(i));
    const voiced = new Uint8Array(track.length);
    for (const { found } of this.notes) {
      const own = (i: number) => Math.abs(track.midi.at(i) - found.midi) <= OWN_PITCH_SEMITONES;
      let nearest = found.from;
      while (nearest < found.to && !own(nearest)) nearest++;
      const end = Math.min(found.offFrame, track.length);
      for (let i = Math.ceil(found.onFrame + SPEAKING_FRAMES); i < end; i++) {
        if (own(i)) nearest = i;
        pitches[i] = track.midi.at(nearest);
        voiced[i] = 1;
      }
    }
    return Array.from({ length: track.length }, (_, i) =>
      this.frameAt(i, pitches[i] as number, voiced[i] === 1),
    );
  }

  private heardNote(note: ReadNote): HeardNote {
    const hopSeconds = this.hop / this.rate;
    return {
      onSeconds: seconds(note.found.onFrame * hopSeconds),
      offSeconds: seconds(note.found.offFrame * hopSeconds),
      pitchMidi: note.midi === null ? null : midi(note.midi),
      spreadCents: note.spreadCents === null ? null : cents(note.spreadCents),
      settledSeconds: seconds(note.settledFrames * hopSeconds),
      levelDbfs: dbfs(note.levelDb),
      unreadable: note.unreadable,
    };
  }
}

/** The pitch is read at 16 to 40 kHz: all that is needed of a reed, for a fraction of the work. */
function halvings(sampleRateHz: number): number {
  let factor = 1;
  while (sampleRateHz / factor >= 40_000) factor *= 2;
  return factor;
}

const nearestPowerOfTwo = (value: number) => 2 ** Math.round(Math.log2(value));

/** Silence reads -140 dB. */
const decibels = (power: number) => 10 * Math.log10(power + 1e-14);

/** Over the middle half: about 10 ms, short enough to show the gap between two attacks. */
function meanSquareOfMiddle(samples: Float64Array): number {
  const quarter = samples.length / 4;
  let sum = 0;
  for (let i = quarter; i < 3 * quarter; i++) sum += (samples[i] as number) ** 2;
  return sum / (2 * quarter);
}
