import { RealFft } from "./real-fft.ts";

/**
 * A first peak this close to the highest is taken as the period. McLeod and Wyvill leave k open between 0.8 and 1; a
 * neighbour reed at -12 dB carries 6 % of the power and so lowers the first peak by up to a tenth.
 */
const FIRST_PEAK_SHARE = 0.88;
/** Peaks below this are noise rather than a period. */
const LOWEST_PEAK = 0.15;

/**
 * Reads the pitch of one window by the normalised square difference (McLeod and Wyvill, "A smarter way to find pitch",
 * ICMC 2005, eq. 7-9), then sharpens it by reading the peak at whole multiples of the period: an error of the reading
 * there counts for the period only divided by the multiple.
 */
export class PitchReader {
  /** Period in samples of the last window read; 0 where none was found. */
  periodSamples = 0;
  /** Height of the peak at the period, 0..1. */
  clarity = 0;
  /** Mean square of the last window after its mean was taken off. */
  power = 0;

  private readonly window: number;
  private readonly shortestPeriod: number;
  private readonly longestPeriod: number;
  private readonly lags: number;
  private readonly fft: RealFft;
  private readonly padded: Float64Array;
  private readonly spectrum: Float64Array;
  private readonly correlation: Float64Array;
  private readonly nsdf: Float64Array;

  /**
   * @param window          samples in a window, a power of two
   * @param shortestPeriod  samples, > 1
   * @param longestPeriod   samples, at most half a window
   */
  constructor(window: number, shortestPeriod: number, longestPeriod: number) {
    this.window = window;
    this.shortestPeriod = shortestPeriod;
    this.longestPeriod = longestPeriod;
    this.lags = Math.floor(window * 0.55) + 2;
    this.fft = new RealFft(2 * window);
    this.padded = new Float64Array(2 * window);
    this.spectrum = new Float64Array(window + 1);
    this.correlation = new Float64Array(window + 1);
    this.nsdf = new Float64Array(this.lags);
  }

  /** @param samples one window; left as it is */
  read(samples: Float64Array): void {
    this.periodSamples = 0;
    this.clarity = 0;
    this.power = this.withoutMean(samples);
    if (this.power < 1e-14) return; // digital silence: -140 dBFS
    this.fft.power(this.padded, this.spectrum);
    this.fft.correlate(this.spectrum, this.correlation);
    this.normalise();
    const peak = this.firstGoodPeak();
    if (peak === 0) return;
    this.clarity = Math.min(1, this.heightAt(peak));
    this.periodSamples = this.sharpened(peak);
  }

  private withoutMean(samples: Float64Array): number {
    const { window, padded } = this;
    let mean = 0;
    for (let i = 0; i < window; i++) mean += samples[i] as number;
    mean /= window;
    let square = 0;
    for (let i = 0; i < window; i++) {
      const value = (samples[i] as number) - mean;
      padded[i] = value;
      square += value * value;
    }
    return square / window;
  }

  /** n'(lag) = 2 r'(lag) / m'(lag), eq. 9; m' shrinks by the two samples that each longer lag leaves out. */
  private normalise(): void {
    const { window, padded, correlation, nsdf, lags } = this;
    let m = 2 * this.power * window;
    for (let lag = 0; lag < lags; lag++) {
      nsdf[lag] = m > 1e-12 ? (2 * (correlation[lag] as number)) / m : 0;
      m -= (padded[lag] as number) ** 2 + (padded[window - 1 - lag] as number) ** 2;
    }
  }

  /** Lag of the first key maximum that is nearly as high as the highest; 0 where there is none. */
  private firstGoodPeak(): number {
    const highest = this.highestPeak();
    if (highest < LOWEST_PEAK) return 0;
    let found = 0;
    this.eachKeyMaximum((lag, height) => {
      if (height < FIRST_PEAK_SHARE * highest) return false;
      found = lag;
      return true;
    });
    return found >= this.shortestPeriod - 1 ? found : 0;
  }

  private highestPeak(): number {
    let highest = 0;
    this.eachKeyMaximum((_lag, height) => {
      if (height > highest) highest = height;
      return false;
    });
    return highest;
  }

  /** Key maxima: the highest point between each rise through zero and the next fall. */
  private eachKeyMaximum(visit: (lag: number, height: number) => boolean): void {
    const { nsdf, longestPeriod } = this;
    let lag = 1;
    while (lag < longestPeriod && (nsdf[lag] as number) > 0) lag++;
    for (; lag < longestPeriod; lag++) {
      if ((nsdf[lag] as number) <= 0) continue;
      let best = lag;
      while (lag <= longestPeriod && (nsdf[lag] as number) > 0) {
        if ((nsdf[lag] as number) > (nsdf[best] as number)) best = lag;
        lag++;
      }
      if (best > longestPeriod - 1) return;
      const exact = this.vertexNear(best);
      if (visit(exact, this.heightAt(exact))) return;
    }
  }

  /** Vertex of the parabola through a lag and its neighbours. */
  private vertexNear(lag: number): number {
    const a = this.nsdf[lag - 1] as number;
    const b = this.nsdf[lag] as number;
    const c = this.nsdf[lag + 1] as number;
    const bend = a - 2 * b + c;
    return bend < 0 ? lag + Math.max(-1, Math.min(1, (a - c) / (2 * bend))) : lag;
  }

  private heightAt(lag: number): number {
    const near = Math.round(lag);
    const a = this.nsdf[near - 1] as number;
    const b = this.nsdf[near] as number;
    const c = this.nsdf[near + 1] as number;
    const x = lag - near;
    return b + 0.5 * x * (c - a) + 0.5 * x * x * (a - 2 * b + c);
  }

  /** The peak near each multiple in turn, always a whole number of periods from what the last one promised. */
  private sharpened(first: number): number {
    let period = first;
    const last = Math.floor((this.lags - 3) / first);
    for (let multiple = 2; multiple <= last; multiple = nextMultiple(multiple, last)) {
      const peak = this.localPeak(multiple * period);
      if (peak === 0) break;
      period = peak / multiple;
    }
    return period;
  }

  private localPeak(about: number): number {
    const { nsdf, lags } = this;
    let lag = Math.round(about);
    // A true multiple lies within a step or two of where the period promises it.
    for (let step = 0; step < 2; step++) {
      if ((nsdf[lag + 1] as number) > (nsdf[lag] as number)) lag++;
      else if ((nsdf[lag - 1] as number) > (nsdf[lag] as number)) lag--;
    }
    if (lag < 1 || lag > lags - 2) return 0;
    const here = nsdf[lag] as number;
    if (here < (nsdf[lag - 1] as number) || here < (nsdf[lag + 1] as number)) return 0;
    return this.vertexNear(lag);
  }
}

/** 2, 3, 4, 6, 8, 12 ... and the last: each no more than half as far again, so that a peak cannot be missed by one. */
function nextMultiple(multiple: number, last: number): number {
  if (multiple === last) return last + 1;
  return Math.min(last, Math.ceil(multiple * 1.5));
}
