import { RealFft } from "./real-fft.ts";

/**
 * Turns a power spectrum into the autocorrelation (Wiener-Khinchin): the inverse transform of a real, even spectrum,
 * which a real transform of half the length can do (Press et al., Numerical Recipes, 3rd ed. 2007, section 12.4.2,
 * "cosft1").
 */
export class CosineTransform {
  private readonly points: number;
  private readonly fft: RealFft;
  private readonly folded: Float64Array;
  private readonly cos: Float64Array;
  private readonly sin: Float64Array;

  /**
   * @param points spectrum values but one: half the length of the signal, a power of two >= 8
   * @throws RangeError for any other number
   */
  constructor(points: number) {
    this.points = points;
    this.fft = new RealFft(points);
    this.folded = new Float64Array(points);
    this.cos = Float64Array.from({ length: points }, (_, j) => Math.cos((Math.PI * j) / points));
    this.sin = Float64Array.from({ length: points }, (_, j) => Math.sin((Math.PI * j) / points));
  }

  /**
   * @param power       |X[k]|^2, k = 0..points
   * @param correlation receives lags 0..points of the circular autocorrelation over 2 * points samples
   */
  correlate(power: Float64Array, correlation: Float64Array): void {
    const { points, fft, folded, cos, sin } = this;
    const first = power[0] as number;
    const last = power[points] as number;
    folded[0] = 0.5 * (first + last);
    let odd = 0.5 * (first - last);
    for (let j = 1; j < points; j++) {
      const a = power[j] as number;
      const b = power[points - j] as number;
      folded[j] = 0.5 * (a + b) - (sin[j] as number) * (a - b);
      odd += a * (cos[j] as number);
    }
    fft.transform(folded);
    const { re, im } = fft;
    const half = points / 2;
    for (let k = 0; k < half; k++) {
      // Odd lags follow from one another; the transform above is that of exp(-i...), hence the minus.
      if (k > 0) odd -= im[k] as number;
      correlation[2 * k] = (re[k] as number) / points;
      correlation[2 * k + 1] = odd / points;
    }
    correlation[points] = (re[half] as number) / points;
  }
}
