import { RealFft } from "./real-fft.ts";
import type { SampleHistory } from "./sample-history.ts";

/**
 * Magnitude spectra of short Hann windows, one a frame: short enough to show when a note begins, long enough to tell the
 * harmonics of two notes apart. They are asked for at the edges of notes only, and made when they are.
 */
export class ShortSpectra {
  /** Of each spectrum. */
  readonly bins: number;
  private readonly window: Float64Array;
  private readonly windowed: Float64Array;
  private readonly fft: RealFft;
  private readonly power: Float64Array;
  private readonly ring: Float32Array[];
  /** Which frame's spectrum lies at each place of the ring. */
  private readonly made: Int32Array;

  /**
   * @param samples what sounds; must hold the windows of the newest `keep` frames
   * @param hop     samples from the middle of one window to the next
   * @param size    window length in samples, a power of two
   */
  constructor(
    private readonly samples: SampleHistory,
    private readonly hop: number,
    size: number,
    keep: number,
  ) {
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
    this.made = new Int32Array(keep).fill(-1);
  }

  /** Newest frame that may be asked for; -1 where there is none yet. */
  newest = -1;

  /** Spectrum of a frame, one of the newest `keep`; the oldest one held where it is older. */
  at(frame: number): Float32Array {
    const { ring, newest, made } = this;
    const held = Math.max(0, newest - ring.length + 1, Math.min(frame, newest));
    const place = held % ring.length;
    const magnitudes = ring[place] as Float32Array;
    if (made[place] !== held) {
      made[place] = held;
      this.make(held, magnitudes);
    }
    return magnitudes;
  }

  private make(frame: number, magnitudes: Float32Array): void {
    const { window, windowed, power } = this;
    this.samples.copy(frame * this.hop - window.length / 2, windowed);
    for (let i = 0; i < window.length; i++) windowed[i] = (windowed[i] as number) * (window[i] as number);
    this.fft.power(windowed, power);
    for (let k = 0; k < power.length; k++) magnitudes[k] = Math.sqrt(power[k] as number);
  }
}
