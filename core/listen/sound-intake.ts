import { HalfBand } from "./half-band.ts";
import { SampleHistory } from "./sample-history.ts";

/** Samples are taken on in blocks of this many, so that results cannot depend on the caller's chunks. */
const BLOCK = 256;
/** How far back full-rate samples are kept for the harmonic fit. */
const HISTORY_SECONDS = 2;
/** How far back samples at the lower rate are kept: as far as short spectra of them may be asked for, 128 frames. */
const HALVED_SECONDS = 0.75;
/** Full scale, or the largest value that 16 bits can hold. */
const FULL_SCALE = 32_767 / 32_768;
const LOWEST_RATE_HZ = 8000;
const HIGHEST_RATE_HZ = 192_000;
/** Rates from here on are halved: the pitch of a reed is read from 16 to 40 kHz, for a fraction of the work. */
const HALVED_FROM_HZ = 40_000;

/** Takes on samples in chunks of any size, keeps the newest, and makes a copy at a lower rate. */
export class SoundIntake {
  readonly sampleRateHz: number;
  /** How many samples become one at the lower rate: 1, 2 or 4. */
  readonly factor: number;
  readonly whole: SampleHistory;
  readonly halved: SampleHistory;
  /** Samples received; largest size among them; how many were at full scale. */
  received = 0;
  peak = 0;
  clipped = 0;

  private readonly halves: readonly HalfBand[];
  private readonly block = new Float64Array(BLOCK);
  private blockCount = 0;

  /** @throws RangeError for a sample rate outside 8,000..192,000 Hz */
  constructor(sampleRateHz: number) {
    if (!(sampleRateHz >= LOWEST_RATE_HZ && sampleRateHz <= HIGHEST_RATE_HZ)) {
      throw new RangeError(
        `a sample rate of ${sampleRateHz} Hz; ${LOWEST_RATE_HZ} to ${HIGHEST_RATE_HZ} are heard`,
      );
    }
    this.sampleRateHz = sampleRateHz;
    let factor = 1;
    while (sampleRateHz / factor >= HALVED_FROM_HZ) factor *= 2;
    this.factor = factor;
    this.halves = Array.from({ length: Math.log2(factor) }, () => new HalfBand());
    this.whole = new SampleHistory(Math.round(HISTORY_SECONDS * sampleRateHz));
    this.halved = new SampleHistory(Math.round((HALVED_SECONDS * sampleRateHz) / factor));
  }

  /**
   * @param samples any number of them; what is not finite counts as silence
   * @param taken   called whenever the histories have grown
   */
  push(samples: Float32Array, taken: () => void): void {
    for (let at = 0; at < samples.length; ) {
      const count = Math.min(BLOCK - this.blockCount, samples.length - at);
      this.block.set(samples.subarray(at, at + count), this.blockCount);
      this.blockCount += count;
      at += count;
      if (this.blockCount < BLOCK) break;
      this.takeOn();
      taken();
    }
    this.received += samples.length;
  }

  /** Takes on what is left of the last block, and gets the last samples out of the filters. */
  finish(): void {
    this.takeOn();
    let tail = new Float64Array(0);
    for (const half of this.halves) {
      const first = Float64Array.from(half.push(tail));
      const last = half.finish();
      tail = new Float64Array(first.length + last.length);
      tail.set(first);
      tail.set(last, first.length);
    }
    this.halved.push(tail);
  }

  private takeOn(): void {
    let chunk: Float64Array = this.block.subarray(0, this.blockCount);
    this.blockCount = 0;
    this.check(chunk);
    this.whole.push(chunk);
    for (const half of this.halves) chunk = half.push(chunk);
    this.halved.push(chunk);
  }

  private check(chunk: Float64Array): void {
    for (let i = 0; i < chunk.length; i++) {
      const size = Math.abs(chunk[i] as number);
      if (!(size < Number.POSITIVE_INFINITY)) {
        chunk[i] = 0;
        continue;
      }
      if (size > this.peak) this.peak = size;
      if (size >= FULL_SCALE) this.clipped++;
    }
  }
}
