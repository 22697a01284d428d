/** Taps on either side of the centre; 31 in all keep what folds back about 60 dB down (see the test). */
const REACH = 15;

/**
 * Tap h[n], n = 0..REACH, of a symmetric half-band low-pass: an ideal one at a quarter of the sample rate, shortened by a
 * Kaiser window (Kaiser 1974; Oppenheim and Schafer, Discrete-Time Signal Processing, section 7.5).
 */
function tap(n: number): number {
  const beta = 5.65; // 60 dB by Kaiser's formula 0.1102 (A - 8.7)
  const ideal = n === 0 ? 0.5 : Math.sin((Math.PI * n) / 2) / (Math.PI * n);
  return ideal * (besselI0(beta * Math.sqrt(1 - (n / (REACH + 1)) ** 2)) / besselI0(beta));
}

/** Every even tap but the centre is 0. */
const USED_TAPS = [tap(0), tap(1), tap(3), tap(5), tap(7), tap(9), tap(11), tap(13), tap(15)] as const;

/** Modified Bessel function of the first kind, order 0, by its power series. */
function besselI0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; k < 30; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

/**
 * Halves a sample rate, fed in chunks of any size. Output sample n lies at the time of input sample 2n: no delay, but
 * the filter has to see `REACH` samples beyond it first.
 */
export class HalfBand {
  private held = new Float64Array(4096);
  private count = REACH; // silence before the first sample
  private centre = REACH;

  /** @returns the output samples that became known, a view that the next call overwrites */
  push(input: Float64Array): Float64Array {
    this.makeRoom(input.length);
    this.held.set(input, this.count);
    this.count += input.length;
    return this.filter();
  }

  /** The last outputs, as if silence followed. */
  finish(): Float64Array {
    return this.push(new Float64Array(REACH));
  }

  private out = new Float64Array(2048);

  private filter(): Float64Array {
    const { held } = this;
    const [t0, t1, t3, t5, t7, t9, t11, t13, t15] = USED_TAPS;
    const ready = Math.max(0, Math.ceil((this.count - REACH - this.centre) / 2));
    if (this.out.length < ready) this.out = new Float64Array(2 * ready);
    const { out } = this;
    for (let n = 0; n < ready; n++, this.centre += 2) {
      const c = this.centre;
      out[n] =
        t0 * (held[c] as number) +
        t1 * ((held[c - 1] as number) + (held[c + 1] as number)) +
        t3 * ((held[c - 3] as number) + (held[c + 3] as number)) +
        t5 * ((held[c - 5] as number) + (held[c + 5] as number)) +
        t7 * ((held[c - 7] as number) + (held[c + 7] as number)) +
        t9 * ((held[c - 9] as number) + (held[c + 9] as number)) +
        t11 * ((held[c - 11] as number) + (held[c + 11] as number)) +
        t13 * ((held[c - 13] as number) + (held[c + 13] as number)) +
        t15 * ((held[c - 15] as number) + (held[c + 15] as number));
    }
    return this.out.subarray(0, ready);
  }

  private makeRoom(extra: number): void {
    const keepFrom = this.centre - REACH;
    if (keepFrom > 0) {
      this.held.copyWithin(0, keepFrom, this.count);
      this.count -= keepFrom;
      this.centre -= keepFrom;
    }
    if (this.held.length >= this.count + extra) return;
    const larger = new Float64Array(2 * (this.count + extra));
    larger.set(this.held.subarray(0, this.count));
    this.held = larger;
  }
}
