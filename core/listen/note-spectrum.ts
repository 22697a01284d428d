import { hannShapes, SHAPE_REACH, SWELL_IN_THE_MIDDLE } from "./hann-shape.ts";
import { RealFft } from "./real-fft.ts";

/** Nothing above this share of the sample rate is looked at: there begins the edge of the halving filter. */
const HIGHEST_SHARE = 0.42;
const HIGHEST_HZ = 10_000;
/** Harmonics of the note that are of use here. */
const MOST_HARMONICS = 16;
/** A harmonic is fitted over this far to either side, in turns per window; nearer lines of others are lost in it. */
export const FIT_TURNS = 2.2;
/** Transforms are at least this many times as long as the window. */
const PADDING = 2;
const LONGEST_FFT = 8192;

/**
 * Spectrum of a stretch of one note, in which the note's own harmonics have been taken away: what is left belongs to
 * other sounds. Each harmonic may grow and swell in the stretch.
 */
export class NoteSpectrum {
  /** Longest stretch, in samples. */
  static readonly longest = LONGEST_FFT / PADDING;

  /** Hz from bin to bin, bins to a turn per window, bins in use, bins from one harmonic of the note to the next. */
  binHz = 1;
  binsPerTurn = 1;
  bins = 0;
  spacing = 1;
  /** Squared amplitude that a sine would have to show this much in a bin, 0..bins. */
  readonly left = new Float64Array(LONGEST_FFT / 2 + 1);
  /** 1 where a bin is far enough from every harmonic of the note for a line of another sound to be seen. */
  readonly clear = new Uint8Array(LONGEST_FFT / 2 + 1);
  /** Squared amplitude of the note's harmonics 1, 2, 3 ...; the first is at 0. */
  powers = new Float64Array(0);

  private readonly ffts = new Map<number, RealFft>();
  private readonly input = new Float64Array(LONGEST_FFT);
  private readonly shapes = new Float64Array(3);

  /**
   * @param samples 1..`longest` of them
   * @param rateHz  sample rate
   * @param noteHz  the note, good to a cent
   */
  measure(samples: Float64Array, rateHz: number, noteHz: number): void {
    const length = samples.length - 1 + (samples.length % 2);
    const size = Math.max(8, 2 ** Math.ceil(Math.log2(PADDING * length)));
    const fft = this.fftOf(size);
    fft.transform(this.windowed(samples, length, size));
    this.binHz = rateHz / size;
    this.binsPerTurn = size / length;
    this.spacing = noteHz / this.binHz;
    const highest = Math.min(HIGHEST_HZ, HIGHEST_SHARE * rateHz, (MOST_HARMONICS + 0.5) * noteHz);
    this.bins = Math.floor(highest / this.binHz);
    this.takeAwayNote(fft);
    for (let j = 0; j <= this.bins; j++) {
      this.left[j] = (fft.re[j] as number) ** 2 + (fft.im[j] as number) ** 2;
    }
  }

  private fftOf(size: number): RealFft {
    const known = this.ffts.get(size);
    if (known !== undefined) return known;
    const made = new RealFft(size);
    this.ffts.set(size, made);
    return made;
  }

  /** The middle of the window comes first, so that a symmetric stretch has a real spectrum. */
  private windowed(samples: Float64Array, length: number, size: number): Float64Array {
    const input = this.input.subarray(0, size);
    input.fill(0);
    const half = (length - 1) / 2;
    // A sine of amplitude 1 shows 1 at its frequency.
    const scale = 2 / length;
    const turnRe = Math.cos((2 * Math.PI) / length);
    const turnIm = Math.sin((2 * Math.PI) / length);
    let re = 1;
    let im = 0;
    for (let n = 0; n <= half; n++) {
      const weight = scale * (1 + re);
      input[n] = weight * (samples[half + n] as number);
      if (n > 0) input[size - n] = weight * (samples[half - n] as number);
      const next = re * turnRe - im * turnIm;
      im = re * turnIm + im * turnRe;
      re = next;
    }
    return input;
  }

  private takeAwayNote(fft: RealFft): void {
    const { spacing, bins, binsPerTurn, clear } = this;
    clear.fill(1, 0, bins + 1);
    this.powers = new Float64Array(Math.max(0, Math.floor((bins - binsPerTurn) / spacing)));
    for (let h = 0; h <= this.powers.length; h++) {
      // Beyond the last whole harmonic there may be the foot of another; below the first, that of a drift.
      const at = (h + 1) * spacing;
      const from = Math.max(0, Math.ceil(at - FIT_TURNS * binsPerTurn));
      clear.fill(0, Math.min(from, bins + 1), Math.min(bins, Math.floor(at + FIT_TURNS * binsPerTurn)) + 1);
      if (h < this.powers.length) this.powers[h] = this.takeAway(fft, at);
    }
  }

  /**
   * Takes the tone at a fractional bin out of the spectrum: its steady part, its growth and its swell, by least squares
   * over the bins near it.
   *
   * @returns squared amplitude of the steady part
   */
  private takeAway({ re, im }: RealFft, at: number): number {
    const { binsPerTurn, shapes } = this;
    const sums = new NormalSums();
    const reach = FIT_TURNS * binsPerTurn;
    for (let j = Math.max(1, Math.ceil(at - reach)); j <= at + reach; j++) {
      hannShapes((j - at) / binsPerTurn, shapes);
      sums.add(shapes, re[j] as number, im[j] as number);
    }
    const [r0, r1, r2] = sums.solve(sums.re);
    const [i0, i1, i2] = sums.solve(sums.im);
    const wide = SHAPE_REACH * binsPerTurn;
    const last = Math.min(re.length - 1, Math.floor(at + wide));
    for (let j = Math.max(0, Math.ceil(at - wide)); j <= last; j++) {
      hannShapes((j - at) / binsPerTurn, shapes);
      const w0 = shapes[0] as number;
      const w1 = shapes[1] as number;
      const w2 = shapes[2] as number;
      re[j] = (re[j] as number) - (r0 * w0 + r1 * w1 + r2 * w2);
      im[j] = (im[j] as number) - (i0 * w0 + i1 * w1 + i2 * w2);
    }
    return (r0 + r2 * SWELL_IN_THE_MIDDLE) ** 2 + (i0 + i2 * SWELL_IN_THE_MIDDLE) ** 2;
  }
}

type Three = [number, number, number];

/** Normal equations of three real shapes for a complex spectrum: real and imaginary part share the left side. */
class NormalSums {
  readonly re: Three = [0, 0, 0];
  readonly im: Three = [0, 0, 0];
  private a00 = 0;
  private a01 = 0;
  private a02 = 0;
  private a11 = 0;
  private a12 = 0;
  private a22 = 0;

  add(shapes: Float64Array, re: number, im: number): void {
    const w0 = shapes[0] as number;
    const w1 = shapes[1] as number;
    const w2 = shapes[2] as number;
    this.a00 += w0 * w0;
    this.a01 += w0 * w1;
    this.a02 += w0 * w2;
    this.a11 += w1 * w1;
    this.a12 += w1 * w2;
    this.a22 += w2 * w2;
    this.re[0] += w0 * re;
    this.re[1] += w1 * re;
    this.re[2] += w2 * re;
    this.im[0] += w0 * im;
    this.im[1] += w1 * im;
    this.im[2] += w2 * im;
  }

  /** By Cramer's rule; zeros where the bins are too few to tell the shapes apart. */
  solve([b0, b1, b2]: Three): Three {
    const { a00, a01, a02, a11, a12, a22 } = this;
    const c00 = a11 * a22 - a12 * a12;
    const c01 = a02 * a12 - a01 * a22;
    const c02 = a01 * a12 - a02 * a11;
    const c11 = a00 * a22 - a02 * a02;
    const c12 = a01 * a02 - a00 * a12;
    const c22 = a00 * a11 - a01 * a01;
    const det = a00 * c00 + a01 * c01 + a02 * c02;
    if (det < 1e-12 * a00 * a11 * a22) return [0, 0, 0];
    return [
      (c00 * b0 + c01 * b1 + c02 * b2) / det,
      (c01 * b0 + c11 * b1 + c12 * b2) / det,
      (c02 * b0 + c12 * b1 + c22 * b2) / det,
    ];
  }
}
