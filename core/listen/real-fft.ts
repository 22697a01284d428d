/** One pass of the transform: `n` points a group, `stride` groups side by side, turns for p = 1..n/4 - 1. */
interface Pass {
  readonly n: number;
  readonly stride: number;
  /** cos and sin of p, 2p, 3p turns of 1/n, six numbers for each p. */
  readonly turns: Float64Array;
}

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
  private ar: Float64Array;
  private ai: Float64Array;
  private br: Float64Array;
  private bi: Float64Array;

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
    this.ar = new Float64Array(this.half);
    this.ai = new Float64Array(this.half);
    this.br = new Float64Array(this.half);
    this.bi = new Float64Array(this.half);
  }

  /** Transforms `size` samples into `re` and `im`. */
  transform(input: Float64Array): void {
    this.transformHalf(input);
    const { half, ar, ai, cos, sin, re, im } = this;
    const re0 = ar[0] as number;
    const im0 = ai[0] as number;
    re[0] = re0 + im0;
    re[half] = re0 - im0;
    im[0] = 0;
    im[half] = 0;
    for (let k = 1; k < half; k++) {
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
  }

  /**
   * Writes |X[k]|^2 and leaves `re` and `im` alone.
   *
   * @param input `size` samples
   * @param power receives size/2 + 1 values
   */
  power(input: Float64Array, power: Float64Array): void {
    this.transformHalf(input);
    const { half, ar, ai, cos, sin } = this;
    power[0] = ((ar[0] as number) + (ai[0] as number)) ** 2;
    power[half] = ((ar[0] as number) - (ai[0] as number)) ** 2;
    for (let k = 1, j = half - 1; k <= j; k++, j--) {
      // X[k] = even + turn * odd, and X[half - k] is the conjugate of even - turn * odd.
      const evenRe = 0.5 * ((ar[k] as number) + (ar[j] as number));
      const evenIm = 0.5 * ((ai[k] as number) - (ai[j] as number));
      const oddRe = 0.5 * ((ai[k] as number) + (ai[j] as number));
      const oddIm = 0.5 * ((ar[j] as number) - (ar[k] as number));
      const c = cos[k] as number;
      const s = sin[k] as number;
      const turnedRe = c * oddRe + s * oddIm;
      const turnedIm = c * oddIm - s * oddRe;
      power[k] = (evenRe + turnedRe) ** 2 + (evenIm + turnedIm) ** 2;
      power[j] = (evenRe - turnedRe) ** 2 + (evenIm - turnedIm) ** 2;
    }
  }

  /** Leaves the complex transform of (even samples) + i (odd samples) in ar, ai. */
  private transformHalf(input: Float64Array): void {
    const { half, ar, ai } = this;
    for (let i = 0; i < half; i++) {
      ar[i] = input[2 * i] as number;
      ai[i] = input[2 * i + 1] as number;
    }
    for (const pass of this.passes) {
      if (pass.n === 2) this.radix2(pass.stride);
      else this.radix4(pass);
      this.swap();
    }
  }

  private radix4({ n, stride, turns }: Pass): void {
    const { ar, ai, br, bi } = this;
    const quarter = n >> 2;
    const step = stride * quarter;
    for (let p = 0, t = 0; p < quarter; p++) {
      let c1 = 1;
      let s1 = 0;
      let c2 = 1;
      let s2 = 0;
      let c3 = 1;
      let s3 = 0;
      if (p > 0) {
        c1 = turns[t] as number;
        s1 = turns[t + 1] as number;
        c2 = turns[t + 2] as number;
        s2 = turns[t + 3] as number;
        c3 = turns[t + 4] as number;
        s3 = turns[t + 5] as number;
        t += 6;
      }
      const end = stride * (p + 1);
      let out = 4 * stride * p;
      for (let i = stride * p; i < end; i++, out++) {
        const aRe = ar[i] as number;
        const aIm = ai[i] as number;
        const bRe = ar[i + step] as number;
        const bIm = ai[i + step] as number;
        const cRe = ar[i + 2 * step] as number;
        const cIm = ai[i + 2 * step] as number;
        const dRe = ar[i + 3 * step] as number;
        const dIm = ai[i + 3 * step] as number;
        const sumRe = aRe + cRe;
        const sumIm = aIm + cIm;
        const difRe = aRe - cRe;
        const difIm = aIm - cIm;
        const bdRe = bRe + dRe;
        const bdIm = bIm + dIm;
        // i (b - d)
        const jRe = dIm - bIm;
        const jIm = bRe - dRe;
        br[out] = sumRe + bdRe;
        bi[out] = sumIm + bdIm;
        const re1 = difRe - jRe;
        const im1 = difIm - jIm;
        br[out + stride] = c1 * re1 + s1 * im1;
        bi[out + stride] = c1 * im1 - s1 * re1;
        const re2 = sumRe - bdRe;
        const im2 = sumIm - bdIm;
        br[out + 2 * stride] = c2 * re2 + s2 * im2;
        bi[out + 2 * stride] = c2 * im2 - s2 * re2;
        const re3 = difRe + jRe;
        const im3 = difIm + jIm;
        br[out + 3 * stride] = c3 * re3 + s3 * im3;
        bi[out + 3 * stride] = c3 * im3 - s3 * re3;
      }
    }
  }

  private radix2(stride: number): void {
    const { ar, ai, br, bi } = this;
    for (let i = 0; i < stride; i++) {
      const aRe = ar[i] as number;
      const aIm = ai[i] as number;
      const bRe = ar[i + stride] as number;
      const bIm = ai[i + stride] as number;
      br[i] = aRe + bRe;
      bi[i] = aIm + bIm;
      br[i + stride] = aRe - bRe;
      bi[i + stride] = aIm - bIm;
    }
  }

  private swap(): void {
    const { ar, ai } = this;
    this.ar = this.br;
    this.ai = this.bi;
    this.br = ar;
    this.bi = ai;
  }
}

function passesFor(points: number): Pass[] {
  const passes: Pass[] = [];
  let stride = 1;
  for (let n = points; n > 1; ) {
    const radix = n === 2 ? 2 : 4;
    const turns: number[] = [];
    for (let p = 1; p < n / 4; p++) {
      for (const times of [1, 2, 3]) {
        const angle = (2 * Math.PI * times * p) / n;
        turns.push(Math.cos(angle), Math.sin(angle));
      }
    }
    passes.push({ n, stride, turns: Float64Array.from(turns) });
    n /= radix;
    stride *= radix;
  }
  return passes;
}
