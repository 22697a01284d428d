/** Taps on either side of the centre; 31 in all keep what folds back about 60 dB down (see the test). */
const REACH = 15;

/**
 * Taps h[0..REACH] of a symmetric half-band low-pass: an ideal one at a quarter of the sample rate, shortened by a
 * Kaiser window (Kaiser 1974; Oppenheim and Schafer, Discrete-Time Signal Processing, section 7.5).
 */
const TAPS: Float64Array = Float64Array.from({ length: REACH + 1 }, (_, n) => {
  const beta = 5.65; // 60 dB by Kaiser's formula 0.1102 (A - 8.7)
  const ideal = n === 0 ? 0.5 : Math.sin((Math.PI * n) / 2) / (Math.PI * n);
  return ideal * (besselI0(beta * Math.sqrt(1 - (n / (REACH + 1)) ** 2)) / besselI0(beta));
});

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
    const ready = Math.max(0, Math.ceil((this.count - REACH - this.centre) / 2));
    if (this.out.length < ready) this.out = new Float64Array(2 * ready);
    for (let n = 0; n < ready; n++, this.centre += 2) {
      const c = this.centre;
      let sum = (TAPS[0] as number) * (held[c] as number);
      // Every even tap but the centre is 0.
      for (let j = 1; j <= REACH; j += 2) {
        sum += (TAPS[j] as number) * ((held[c - j] as number) + (held[c + j] as number));
      }
      this.out[n] = sum;
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
