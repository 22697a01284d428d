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
    this.cos = Float64Array.from({ length: points / 2 }, (_, j) => Math.cos((Math.PI * j) / points));
    this.sin = Float64Array.from({ length: points / 2 }, (_, j) => Math.sin((Math.PI * j) / points));
  }

  /**
   * @param power       |X[k]|^2, k = 0..points
   * @param correlation receives the first lags, points + 1 at most, of the circular autocorrelation over 2 * points
   *                    samples
   */
  correlate(power: Float64Array, correlation: Float64Array): void {
    const { points, fft, folded, cos, sin } = this;
    const { re, im } = fft;
    const half = points / 2;
    const first = power[0] as number;
    const last = power[points] as number;
    folded[0] = 0.5 * (first + last);
    folded[half] = power[half] as number;
    let odd = 0.5 * (first - last);
    for (let j = 1; j < half; j++) {
      const a = power[j] as number;
      const b = power[points - j] as number;
      const mean = 0.5 * (a + b);
      const dif = a - b;
      const turned = (sin[j] as number) * dif;
      folded[j] = mean - turned;
      folded[points - j] = mean + turned;
      odd += (cos[j] as number) * dif;
    }
    const pairs = (correlation.length - 1) >> 1;
    fft.transform(folded, pairs);
    const scale = 1 / points;
    for (let k = 0; k <= pairs; k++) {
      // Odd lags follow from one another; the transform above is that of exp(-i...), hence the minus.
      odd -= im[k] as number;
      correlation[2 * k] = (re[k] as number) * scale;
      if (2 * k + 1 < correlation.length) correlation[2 * k + 1] = odd * scale;
    }
  }
}
