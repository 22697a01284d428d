import { hzToMidi, midiToHz } from "../pitch/equal-temperament.ts";
import { cents, dbfs, hz, midi, seconds } from "../units.ts";
import { FrameTrack } from "./frame-track.ts";
import { HalfBand } from "./half-band.ts";
import type { Frame, HeardNote, Listening } from "./listening.ts";
import { type FoundNote, NoteFinder } from "./note-finder.ts";
import { PitchReader } from "./pitch-reader.ts";
import { SampleHistory } from "./sample-history.ts";
import { ShortSpectra } from "./short-spectra.ts";

const HOP_SECONDS = 0.005;
/** As long as the lowest notes need and fast notes allow: 2048 samples at 48 kHz. */
const WINDOW_SECONDS = 0.0427;
const SHORT_WINDOW_SECONDS = 0.0213;
/** C3 less a wide bend, to G7 and a little above. */
const LOWEST_HZ = 115;
const HIGHEST_HZ = 3400;
/** Frames the note finder runs behind the newest. */
const LOOKAHEAD = 12;
const BLOCK = 1024;

/**
 * Listens to a whole take: the streaming `Listener` fed with all of it.
 *
 * @param samples      one channel, nominally -1..1
 * @param sampleRateHz 8,000..192,000
 * @param onProgress   told now and then which share, 0..1, is done
 * @throws RangeError for a sample rate outside that
 */
export function listenToTake(
  samples: Float32Array,
  sampleRateHz: number,
  onProgress?: (share: number) => void,
): Listening {
  const listener = new Listener(sampleRateHz);
  const step = Math.round(sampleRateHz);
  for (let at = 0; at < samples.length; at += step) {
    listener.push(samples.subarray(at, at + step));
    onProgress?.(Math.min(1, (at + step) / samples.length));
  }
  return listener.finish();
}

/** Listens while a take is being recorded. Results do not depend on how the samples were cut into chunks. */
export class Listener {
  private readonly sampleRateHz: number;
  private readonly factor: number;
  private readonly rate: number;
  private readonly hop: number;
  private readonly halves: HalfBand[];
  private readonly history: SampleHistory;
  private readonly reader: PitchReader;
  private readonly spectra: ShortSpectra;
  private readonly track = new FrameTrack();
  private readonly finder: NoteFinder;
  private readonly found: FoundNote[] = [];
  private readonly windowSamples: Float64Array;
  private readonly shortSamples: Float64Array;
  private block = new Float64Array(BLOCK);
  private blockCount = 0;
  private received = 0;
  private peak = 0;
  private clipped = 0;
  private floorDb = -100;
  private floorSeen = false;
  private stepped = 0;

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
    this.history = new SampleHistory(Math.max(4 * window, 4 * BLOCK));
    this.reader = new PitchReader(
      window,
      this.rate / HIGHEST_HZ,
      Math.min(Math.ceil(this.rate / LOWEST_HZ), window / 2),
    );
    this.spectra = new ShortSpectra(short, 512);
    this.windowSamples = new Float64Array(window);
    this.shortSamples = new Float64Array(short);
    this.finder = new NoteFinder(this.track, this.spectra, short / this.rate, (note) =>
      this.found.push(note),
    );
  }

  /** Newest estimate, for the screen; null before there is one. */
  get liveFrame(): Frame | null {
    return this.track.length > 0 ? this.frameAt(this.track.length - 1) : null;
  }

  /** @param samples any number of them */
  push(samples: Float32Array): void {
    for (let i = 0; i < samples.length; i++) {
      const value = samples[i] as number;
      const size = Math.abs(value);
      if (size > this.peak) this.peak = size;
      if (size >= 32_767 / 32_768) this.clipped++;
      this.block[this.blockCount++] = value;
      if (this.blockCount === BLOCK) this.flush(BLOCK);
    }
    this.received += samples.length;
  }

  /** What was heard; the listener is spent afterwards. */
  finish(): Listening {
    this.flush(this.blockCount);
    let tail: Float64Array | null = null;
    for (const half of this.halves) {
      const parts: Float64Array[] = tail ? [Float64Array.from(half.push(tail))] : [];
      parts.push(Float64Array.from(half.finish()));
      tail = Float64Array.from(parts.flatMap((part) => [...part]));
    }
    if (tail) this.history.push(tail);
    const frames = Math.floor(this.received / this.factor / this.hop) + 1;
    while (this.track.length < frames) this.analyse();
    while (this.stepped < this.track.length) this.stepFinder();
    this.finder.finish(this.track.length);
    return this.listening();
  }

  private flush(count: number): void {
    let chunk: Float64Array = this.block.subarray(0, count);
    this.blockCount = 0;
    for (const half of this.halves) chunk = half.push(chunk);
    this.history.push(chunk);
    const reach = this.windowSamples.length / 2;
    while (this.track.length * this.hop + reach <= this.history.end) this.analyse();
  }

  private analyse(): void {
    const centre = this.track.length * this.hop;
    const { track, reader, windowSamples, shortSamples } = this;
    this.history.copy(centre - windowSamples.length / 2, windowSamples);
    this.history.copy(centre - shortSamples.length / 2, shortSamples);
    reader.read(windowSamples);
    this.spectra.push(shortSamples);
    track.midi.push(reader.periodSamples > 0 ? hzToMidi(hz(this.rate / reader.periodSamples)) : Number.NaN);
    track.clarity.push(reader.clarity);
    const level = 10 * Math.log10(reader.power + 1e-14);
    track.levelDb.push(level);
    track.shortDb.push(
      10 *
        Math.log10(
          meanSquare(shortSamples.subarray(shortSamples.length / 4, 0.75 * shortSamples.length)) + 1e-14,
        ),
    );
    track.flux.push(0);
    if (!this.floorSeen || level < this.floorDb) this.floorDb = level;
    else if (reader.periodicity < 0.4) this.floorDb += 0.1 * (level - this.floorDb);
    this.floorSeen = true;
    if (track.length > LOOKAHEAD) this.stepFinder();
  }

  private stepFinder(): void {
    const i = this.stepped++;
    const { track } = this;
    const good = track.clarity.at(i) >= 0.4 && track.levelDb.at(i) > Math.max(-75, this.floorDb + 6);
    this.finder.step(i, good && Number.isFinite(track.midi.at(i)));
  }

  private frameAt(i: number): Frame {
    const value = this.track.midi.at(i);
    return {
      atSeconds: seconds((i * this.hop) / this.rate),
      pitchHz: Number.isFinite(value) ? midiToHz(midi(value)) : null,
      voiced: this.track.clarity.at(i) >= 0.4 && this.track.levelDb.at(i) > Math.max(-75, this.floorDb + 6),
      clarity: this.track.clarity.at(i),
      levelDbfs: dbfs(this.track.levelDb.at(i)),
    };
  }

  private listening(): Listening {
    const frames: Frame[] = [];
    const notes = this.found.map((note) => this.heardNote(note));
    let n = 0;
    for (let i = 0; i < this.track.length; i++) {
      while (n < this.found.length && (this.found[n] as FoundNote).offFrame < i) n++;
      const note = this.found[n];
      const frame = this.frameAt(i);
      frames.push({
        ...frame,
        voiced: note !== undefined && note.onFrame + 0.5 <= i && frame.pitchHz !== null,
      });
    }
    return {
      sampleRateHz: hz(this.sampleRateHz),
      durationSeconds: seconds(this.received / this.sampleRateHz),
      frames,
      notes,
      latencySeconds: seconds((this.windowSamples.length / 2 + this.hop) / this.rate),
      peakDbfs: dbfs(20 * Math.log10(this.peak + 1e-7)),
      noiseFloorDbfs: dbfs(this.floorDb),
      clippedShare: this.received > 0 ? this.clipped / this.received : 0,
    };
  }

  private heardNote(note: FoundNote): HeardNote {
    const hopSeconds = this.hop / this.rate;
    return {
      onSeconds: seconds(note.onFrame * hopSeconds),
      offSeconds: seconds(note.offFrame * hopSeconds),
      pitchMidi: Number.isFinite(note.midi) ? midi(note.midi) : null,
      spreadCents: cents(0),
      settledSeconds: seconds((note.offFrame - note.onFrame) * hopSeconds * 0.55),
      levelDbfs: dbfs(this.track.levelDb.at(Math.round((note.onFrame + note.offFrame) / 2))),
      unreadable: Number.isFinite(note.midi) ? null : "no steady pitch",
    };
  }
}

/** The pitch is read at 16 to 32 kHz: all that is needed of a reed, at a quarter of the work. */
function halvings(sampleRateHz: number): number {
  let factor = 1;
  while (sampleRateHz / factor >= 40_000) factor *= 2;
  return factor;
}

const nearestPowerOfTwo = (value: number) => 2 ** Math.round(Math.log2(value));

function meanSquare(samples: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += (samples[i] as number) ** 2;
  return sum / samples.length;
}
