import { hzToMidi } from "../pitch/equal-temperament.ts";
import { hz } from "../units.ts";
import { decibels } from "./decibels.ts";
import { FrameTrack } from "./frame-track.ts";
import { PitchReader } from "./pitch-reader.ts";
import type { SampleHistory } from "./sample-history.ts";
import { ShortSpectra } from "./short-spectra.ts";

const HOP_SECONDS = 0.005;
/** As long as the lowest notes need and fast notes allow: 2048 samples at 48 kHz. */
const WINDOW_SECONDS = 0.0427;
const SHORT_WINDOW_SECONDS = 0.0213;
/** 0.64 s of spectra; the samples they are made of must be held (`SoundIntake`). */
const SPECTRA_KEPT = 128;
/** C3 less a wide bend, to G7 and a little above. */
const LOWEST_HZ = 115;
const HIGHEST_HZ = 3400;
/** A reed sounds where the window repeats itself at least this much ... */
const REED_CLARITY = 0.4;
/** ... and stands this far above the room. */
const ABOVE_FLOOR_DB = 6;
/** Share of the way the floor rises in each frame: within about 50 ms. */
const FLOOR_RISE = 0.1;
/** Nothing quieter is taken for a reed: it is the last bit of a 16-bit recording. */
const QUIETEST_DBFS = -80;
/** Two readings are alike: both clearly periodic, less than 2 cents and 1 dB apart. */
const CLEAR = 0.8;
const ALIKE_SEMITONES = 0.02;
const ALIKE_DB = 1;

/** What the window of one frame says. */
interface Reading {
  /** Fractional; NaN where there is no pitch. */
  readonly midi: number;
  readonly clarity: number;
  readonly periodicity: number;
  readonly levelDb: number;
  /** False where the window reaches beyond the take. */
  readonly whole: boolean;
}

/** Measures one frame after another: pitch, level, short spectrum, and the level of the room. */
export class FrameAnalyser {
  readonly track: FrameTrack;
  readonly spectra: ShortSpectra;
  /** Samples between frames, and in a pitch window. */
  readonly hop: number;
  readonly window: number;
  /** Bins of the short spectra to a hertz. */
  readonly binsPerHz: number;

  private readonly rate: number;
  private readonly samples: SampleHistory;
  private readonly measured: () => void;
  private readonly reader: PitchReader;
  private readonly windowSamples: Float64Array;
  private readonly shortWindow: number;
  private floor: number | null = null;
  private last: Reading | null = null;

  /**
   * @param samples  what to measure, growing
   * @param rate     its sample rate, Hz
   * @param keepAll  whether all frames are kept, or only the newest
   * @param measured called after each frame
   */
  constructor(samples: SampleHistory, rate: number, keepAll: boolean, measured: () => void) {
    this.track = new FrameTrack(keepAll);
    this.samples = samples;
    this.rate = rate;
    this.measured = measured;
    this.hop = Math.round(HOP_SECONDS * rate);
    this.window = nearestPowerOfTwo(WINDOW_SECONDS * rate);
    const short = nearestPowerOfTwo(SHORT_WINDOW_SECONDS * rate);
    this.reader = new PitchReader(
      this.window,
      rate / HIGHEST_HZ,
      Math.min(rate / LOWEST_HZ, this.window / 2),
    );
    this.spectra = new ShortSpectra(samples, this.hop, short, SPECTRA_KEPT);
    this.binsPerHz = short / rate;
    this.windowSamples = new Float64Array(this.window);
    this.shortWindow = short;
  }

  /** Level of the room; -80 where the take has not shown it yet. */
  get floorDb(): number {
    return this.floor ?? QUIETEST_DBFS;
  }

  /** Whether frame i seems to hold a reed sound. */
  isReed(i: number): boolean {
    const { track } = this;
    if (!Number.isFinite(track.midi.at(i)) || track.clarity.at(i) < REED_CLARITY) return false;
    return track.levelDb.at(i) > Math.max(QUIETEST_DBFS, track.floorDb.at(i) + ABOVE_FLOOR_DB);
  }

  /** Measures every frame whose window has been received. */
  catchUp(): void {
    while (this.nextRead() * this.hop + this.window / 2 <= this.samples.end) this.measure(this.nextRead());
  }

  /** Measures up to `frames` frames, as if silence followed the take. */
  finish(frames: number): void {
    while (this.track.length < frames) this.measure(Math.min(this.nextRead(), frames - 1));
  }

  /** Every second frame is read first; the one before it only where they differ. */
  private nextRead(): number {
    return this.track.length + (this.track.length % 2);
  }

  private measure(i: number): void {
    const now = this.read(i);
    if (this.track.length < i) {
      const { last } = this;
      this.record(i - 1, last !== null && agree(last, now) ? between(last, now) : this.read(i - 1));
    }
    this.record(i, now);
    this.last = now;
  }

  private read(i: number): Reading {
    const { reader, windowSamples, samples } = this;
    const from = i * this.hop - this.window / 2;
    samples.copy(from, windowSamples);
    reader.read(windowSamples);
    return {
      midi: reader.periodSamples > 0 ? hzToMidi(hz(this.rate / reader.periodSamples)) : Number.NaN,
      clarity: reader.clarity,
      periodicity: reader.periodicity,
      levelDb: decibels(reader.power),
      whole: from >= 0 && from + this.window <= samples.end,
    };
  }

  private record(i: number, { midi, clarity, periodicity, levelDb, whole }: Reading): void {
    const { track, samples, shortWindow } = this;
    this.spectra.newest = i;
    track.midi.push(midi);
    track.clarity.push(clarity);
    track.levelDb.push(levelDb);
    // Over the middle half: about 10 ms, short enough to show the gap between two attacks.
    track.shortDb.push(decibels(samples.meanSquare(i * this.hop - shortWindow / 4, shortWindow / 2)));
    if (whole) this.followFloor(levelDb, periodicity);
    track.floorDb.push(this.floorDb);
    this.measured();
  }

  /**
   * The room: falls at once with the level, and rises slowly while nothing periodic sounds. Until something aperiodic
   * has been heard, a take that begins within a note tells nothing about it.
   */
  private followFloor(level: number, periodicity: number): void {
    const aperiodic = periodicity < REED_CLARITY;
    if (this.floor === null) this.floor = aperiodic ? level : null;
    else if (level < this.floor) this.floor = level;
    else if (aperiodic) this.floor += FLOOR_RISE * (level - this.floor);
  }
}

const nearestPowerOfTwo = (value: number) => 2 ** Math.round(Math.log2(value));

/** Windows 10 ms apart share three quarters of their samples: if both say the same, so does the one between. */
function agree(a: Reading, b: Reading): boolean {
  const clear = Math.min(a.clarity, b.clarity) > CLEAR;
  return clear && Math.abs(a.midi - b.midi) < ALIKE_SEMITONES && Math.abs(a.levelDb - b.levelDb) < ALIKE_DB;
}

function between(a: Reading, b: Reading): Reading {
  return {
    midi: (a.midi + b.midi) / 2,
    clarity: (a.clarity + b.clarity) / 2,
    periodicity: (a.periodicity + b.periodicity) / 2,
    levelDb: (a.levelDb + b.levelDb) / 2,
    whole: a.whole && b.whole,
  };
}
