import {
  firstPass,
  firstPassOfPadded,
  lastRadix4Pass,
  type Pass,
  type Points,
  passesFor,
  radix2Pass,
  radix4Pass,
} from "./fft-passes.ts";

/**
 * Fourier transform of a real signal of fixed length: X[k] = sum over n of x[n] exp(-2 pi i k n / size).
 *
 * Source: Stockham's self-sorting radix-4 transform (Cochran et al., "What is the fast Fourier transform?",
 * Proc. IEEE 55, 1967), run on the even and odd samples as one complex signal of half the length
 * (Press et al., Numerical Recipes, 3rd ed. 2007, section 12.3.2).
 */
export class RealFft {
  readonly size: number;
  /** Real and imaginary parts of the last transform, k = 0..size/2. */
  readonly re: Float64Array;
  readonly im: Float64Array;

  private readonly half: number;
  private readonly cos: Float64Array;
  private readonly sin: Float64Array;
  private readonly passes: readonly Pass[];
  /** Where a pass reads, and where it writes; they change places. */
  private from: Points;
  private to: Points;

  /**
   * @param size number of real samples, a power of two >= 8
   * @throws RangeError for any other size
   */
  constructor(size: number) {
    if (size < 8 || !Number.isInteger(Math.log2(size))) {
      throw new RangeError(`a transform needs a power of two >= 8, not ${size}`);
    }
    this.size = size;
    this.half = size / 2;
    this.re = new Float64Array(this.half + 1);
    this.im = new Float64Array(this.half + 1);
    this.cos = Float64Array.from({ length: this.half }, (_, k) => Math.cos((2 * Math.PI * k) / size));
    this.sin = Float64Array.from({ length: this.half }, (_, k) => Math.sin((2 * Math.PI * k) / size));
    this.passes = passesFor(this.half);
    const points = () => ({ re: new Float64Array(this.half), im: new Float64Array(this.half) });
    this.from = points();
    this.to = points();
  }

  /**
   * Transforms `size` samples into `re` and `im`.
   *
   * @param upTo only k = 0..upTo are written
   */
  transform(input: Float64Array, upTo: number = this.half): void {
    this.transformHalf(input);
    const { half, cos, sin, re, im } = this;
    const { re: ar, im: ai } = this.from;
    const re0 = ar[0] as number;
    const im0 = ai[0] as number;
    re[0] = re0 + im0;
    im[0] = 0;
    const last = Math.min(upTo, half - 1);
    for (let k = 1; k <= last; k++) {
      const j = half - k;
      const evenRe = 0.5 * ((ar[k] as number) + (ar[j] as number));
      const evenIm = 0.5 * ((ai[k] as number) - (ai[j] as number));
      const oddRe = 0.5 * ((ai[k] as number) + (ai[j] as number));
      const oddIm = 0.5 * ((ar[j] as number) - (ar[k] as number));
      const c = cos[k] as number;
      const s = sin[k] as number;
      re[k] = evenRe + c * oddRe + s * oddIm;
      im[k] = evenIm + c * oddIm - s * oddRe;
    }
    if (upTo < half) return;
    re[half] = re0 - im0;
    im[half] = 0;
  }

  /**
   * Writes |X[k]|^2 and leaves `re` and `im` alone.
   *
   * @param input `size` samples, or half as many that silence follows
   * @param power receives size/2 + 1 values
   * @returns the largest of them
   */
  power(input: Float64Array, power: Float64Array): number {
    this.transformHalf(input);
    const { half, cos, sin } = this;
    const { re: ar, im: ai } = this.from;
    const first = ((ar[0] as number) + (ai[0] as number)) ** 2;
    const last = ((ar[0] as number) - (ai[0] as number)) ** 2;
    power[0] = first;
    power[half] = last;
    let most = Math.max(first, last);
    for (let k = 1, j = half - 1; k <= j; k++, j--) {
      // X[k] = even + turn * odd, and X[half - k] is the conjugate of even - turn * odd.
      const kRe = ar[k] as number;
      const kIm = ai[k] as number;
      const jRe = ar[j] as number;
      const jIm = ai[j] as number;
      const evenRe = 0.5 * (kRe + jRe);
      const evenIm = 0.5 * (kIm - jIm);
      const oddRe = 0.5 * (kIm + jIm);
      const oddIm = 0.5 * (jRe - kRe);
      const c = cos[k] as number;
      const s = sin[k] as number;
      const turnedRe = c * oddRe + s * oddIm;
      const turnedIm = c * oddIm - s * oddRe;
      const sumRe = evenRe + turnedRe;
      const sumIm = evenIm + turnedIm;
      const difRe = evenRe - turnedRe;
      const difIm = evenIm - turnedIm;
      const low = sumRe * sumRe + sumIm * sumIm;
      const high = difRe * difRe + difIm * difIm;
      power[k] = low;
      power[j] = high;
      if (low > most) most = low;
      if (high > most) most = high;
    }
    return most;
  }

  /** Leaves the complex transform of (even samples) + i (odd samples) in `from`. */
  private transformHalf(input: Float64Array): void {
    const { passes } = this;
    const first = passes[0] as Pass;
    if (input.length < this.size) firstPassOfPadded(input, this.to, first);
    else firstPass(input, this.to, first);
    this.swap();
    for (let n = 1; n < passes.length; n++) {
      const pass = passes[n] as Pass;
      if (pass.n === 2) radix2Pass(this.from, this.to, pass);
      else if (pass.n === 4) lastRadix4Pass(this.from, this.to, pass);
      else radix4Pass(this.from, this.to, pass);
      this.swap();
    }
  }

  private swap(): void {
    const { from } = this;
    this.from = this.to;
    this.to = from;
  }
}
