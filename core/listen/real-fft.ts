/**
 * Forward Fourier transform of a real signal of fixed length.
 *
 * Source: Stockham's self-sorting radix-4 transform (Cochran et al., "What is the fast Fourier transform?",
 * Proc. IEEE 55, 1967), run on the even and odd samples as one complex signal of half the length
 * (Press et al., Numerical Recipes, 3rd ed. 2007, section 12.3.2).
 */
export class RealFft {
  readonly size: number;
  private readonly half: number;
  private readonly cos: Float64Array;
  private readonly sin: Float64Array;
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
    this.cos = Float64Array.from({ length: size }, (_, i) => Math.cos((2 * Math.PI * i) / size));
    this.sin = Float64Array.from({ length: size }, (_, i) => Math.sin((2 * Math.PI * i) / size));
    this.ar = new Float64Array(this.half);
    this.ai = new Float64Array(this.half);
    this.br = new Float64Array(this.half);
    this.bi = new Float64Array(this.half);
  }

  /**
   * Writes |X[k]|^2, k = 0..size/2, X[k] = sum over n of input[n] exp(-2 pi i k n / size).
   *
   * @param input `size` samples
   * @param power receives size/2 + 1 values
   */
  power(input: Float64Array, power: Float64Array): void {
    this.transformHalf(input);
    const { half, ar, ai, cos, sin } = this;
    const re0 = ar[0] as number;
    const im0 = ai[0] as number;
    power[0] = (re0 + im0) ** 2;
    power[half] = (re0 - im0) ** 2;
    for (let k = 1; k < half; k++) {
      const j = half - k;
      const er = 0.5 * ((ar[k] as number) + (ar[j] as number));
      const ei = 0.5 * ((ai[k] as number) - (ai[j] as number));
      const or = 0.5 * ((ai[k] as number) + (ai[j] as number));
      const oi = -0.5 * ((ar[k] as number) - (ar[j] as number));
      const c = cos[k] as number;
      const s = sin[k] as number;
      const re = er + c * or + s * oi;
      const im = ei + c * oi - s * or;
      power[k] = re * re + im * im;
    }
  }

  /**
   * Inverse transform of a real, even spectrum: with |X|^2 in, the circular autocorrelation out (Wiener-Khinchin).
   *
   * @param power size/2 + 1 values, as `power` writes them
   * @param out   receives lags 0..size/2
   */
  correlate(power: Float64Array, out: Float64Array): void {
    const { size, half, cos, sin } = this;
    const mirrored = this.evenSamples(power);
    this.transformHalf(mirrored);
    const { ar, ai } = this;
    for (let k = 1; k < half; k++) {
      const j = half - k;
      const er = 0.5 * ((ar[k] as number) + (ar[j] as number));
      const or = 0.5 * ((ai[k] as number) + (ai[j] as number));
      const oi = -0.5 * ((ar[k] as number) - (ar[j] as number));
      out[k] = (er + (cos[k] as number) * or + (sin[k] as number) * oi) / size;
    }
    out[0] = ((ar[0] as number) + (ai[0] as number)) / size;
    out[half] = ((ar[0] as number) - (ai[0] as number)) / size;
  }

  private mirror: Float64Array | null = null;

  private evenSamples(power: Float64Array): Float64Array {
    this.mirror ??= new Float64Array(this.size);
    const whole = this.mirror;
    whole.set(power.subarray(0, this.half + 1));
    for (let k = 1; k < this.half; k++) whole[this.size - k] = power[k] as number;
    return whole;
  }

  /** Leaves the complex transform of (even samples) + i (odd samples) in ar, ai. */
  private transformHalf(input: Float64Array): void {
    const { half } = this;
    for (let i = 0; i < half; i++) {
      this.ar[i] = input[2 * i] as number;
      this.ai[i] = input[2 * i + 1] as number;
    }
    let n = half;
    let stride = 1;
    for (; n >= 4; n >>= 2, stride <<= 2) this.radix4(n, stride);
    if (n === 2) this.radix2(stride);
  }

  private radix4(n: number, s: number): void {
    const { ar, ai, br, bi, cos, sin } = this;
    const m = n >> 2;
    const turn = this.size / n;
    for (let p = 0; p < m; p++) {
      const c1 = cos[p * turn] as number;
      const s1 = sin[p * turn] as number;
      const c2 = cos[2 * p * turn] as number;
      const s2 = sin[2 * p * turn] as number;
      const c3 = cos[3 * p * turn] as number;
      const s3 = sin[3 * p * turn] as number;
      let i0 = s * p;
      let o0 = 4 * s * p;
      const step = s * m;
      for (let q = 0; q < s; q++, i0++, o0++) {
        const i1 = i0 + step;
        const i2 = i1 + step;
        const i3 = i2 + step;
        const sumR = (ar[i0] as number) + (ar[i2] as number);
        const sumI = (ai[i0] as number) + (ai[i2] as number);
        const difR = (ar[i0] as number) - (ar[i2] as number);
        const difI = (ai[i0] as number) - (ai[i2] as number);
        const bdR = (ar[i1] as number) + (ar[i3] as number);
        const bdI = (ai[i1] as number) + (ai[i3] as number);
        const jbR = -((ai[i1] as number) - (ai[i3] as number));
        const jbI = (ar[i1] as number) - (ar[i3] as number);
        br[o0] = sumR + bdR;
        bi[o0] = sumI + bdI;
        const r1 = difR - jbR;
        const m1 = difI - jbI;
        const r2 = sumR - bdR;
        const m2 = sumI - bdI;
        const r3 = difR + jbR;
        const m3 = difI + jbI;
        const o1 = o0 + s;
        const o2 = o1 + s;
        const o3 = o2 + s;
        br[o1] = c1 * r1 + s1 * m1;
        bi[o1] = c1 * m1 - s1 * r1;
        br[o2] = c2 * r2 + s2 * m2;
        bi[o2] = c2 * m2 - s2 * r2;
        br[o3] = c3 * r3 + s3 * m3;
        bi[o3] = c3 * m3 - s3 * r3;
      }
    }
    this.swap();
  }

  private radix2(s: number): void {
    const { ar, ai, br, bi } = this;
    for (let q = 0; q < s; q++) {
      const r0 = ar[q] as number;
      const m0 = ai[q] as number;
      const r1 = ar[q + s] as number;
      const m1 = ai[q + s] as number;
      br[q] = r0 + r1;
      bi[q] = m0 + m1;
      br[q + s] = r0 - r1;
      bi[q + s] = m0 - m1;
    }
    this.swap();
  }

  private swap(): void {
    const { ar, ai } = this;
    this.ar = this.br;
    this.ai = this.bi;
    this.br = ar;
    this.bi = ai;
  }
}
