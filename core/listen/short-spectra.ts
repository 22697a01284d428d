import { RealFft } from "./real-fft.ts";

/**
 * Magnitude spectra of short Hann windows, one a frame, the newest `keep` of them: short enough to show when a note
 * begins, long enough to tell the harmonics of two notes apart.
 */
export class ShortSpectra {
  readonly bins: number;
  private readonly window: Float64Array;
  private readonly windowed: Float64Array;
  private readonly fft: RealFft;
  private readonly power: Float64Array;
  private readonly ring: Float32Array[];
  private newest = -1;

  /** @param size window length in samples, a power of two */
  constructor(size: number, keep: number) {
    this.bins = size / 2 + 1;
    // Scaled so that a sine of amplitude 1 on a bin reads 1.
    this.window = Float64Array.from(
      { length: size },
      (_, i) => (2 / size) * (1 - Math.cos((2 * Math.PI * (i + 0.5)) / size)),
    );
    this.windowed = new Float64Array(size);
    this.fft = new RealFft(size);
    this.power = new Float64Array(this.bins);
    this.ring = Array.from({ length: keep }, () => new Float32Array(this.bins));
  }

  /** Adds the spectrum of the next frame and returns it. */
  push(samples: Float64Array): Float32Array {
    const { window, windowed, power, bins } = this;
    for (let i = 0; i < window.length; i++) windowed[i] = (window[i] as number) * (samples[i] as number);
    this.fft.power(windowed, power);
    this.newest++;
    const magnitudes = this.at(this.newest);
    for (let k = 0; k < bins; k++) magnitudes[k] = Math.sqrt(power[k] as number);
    return magnitudes;
  }

  /** Spectrum of a frame, one of the newest `keep`; the oldest one held where it is older. */
  at(frame: number): Float32Array {
    const { ring, newest } = this;
    const held = Math.max(0, newest - ring.length + 1, Math.min(frame, newest));
    return ring[held % ring.length] as Float32Array;
  }
}
