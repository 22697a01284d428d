import { CosineTransform } from "./cosine-transform.ts";
import { heightAt, SPARE_LAGS, sharpenedPeriod, vertexNear } from "./peak-reading.ts";
import { RealFft } from "./real-fft.ts";

/**
 * A peak this close to the best one wins if it means a higher note (McLeod and Wyvill's k, 0.8..1). Lower, and a reed
 * whose third harmonic is four times its first is read a twelfth high; higher, and a note an octave above the ringing
 * of the last one is read an octave low.
 */
const FIRST_PEAK_SHARE = 0.88;
/** Peaks below this are noise rather than a period. */
const LOWEST_PEAK = 0.2;
/** Peaks lower than this share of the highest are not looked at. */
const WORTH_A_LOOK = 0.4;
/** A harmonic this far below the strongest one, in power, counts as missing (-30 dB). */
const MISSING = 0.001;
/** One this little below it (-14 dB) is strong: with the first two strong, a recorded reed may lack most others. */
const STRONG = 0.04;
/** Among the first seven harmonics of a reed no three are missing; of a note that is not there, they are. */
const MOST_MISSING = 2;
const HARMONICS_CHECKED = 7;
const MOST_CANDIDATES = 24;
/** A window that repeats itself this well holds reeds, even where it has the period of none. */
const SURELY_PERIODIC = 0.6;
/** Where the period of one reed explains less than this of that, two sound. */
const OF_ONE_REED = 0.7;
/** Steps of 6 cents, eight harmonics, each counting 0.84 of the last (Hermes 1988). */
const SUM_STEP = 2 ** (6 / 1200);
const SUMMED_HARMONICS = 8;
const SUM_DECAY = 0.84;
/** Sums this near are alike; periods this near, half a semitone, are of one reed. */
const ALIKE_SUM = 0.85;
const SAME_PERIOD = 0.03;

/**
 * Reads the pitch of one window from its autocorrelation, divided by that of the Hann window (Boersma, "Accurate
 * short-term analysis of the fundamental frequency", IFA Proceedings 17, 1993, eq. 9), then sharpens it by reading the
 * peak at whole multiples of the period: an error of the reading there counts for the period only divided by the
 * multiple.
 *
 * While one note gives way to another, the two together repeat with the period of neither, a long one. Such a period
 * betrays itself in the spectrum: most of its low harmonics are missing. Candidates are refused by that.
 */
export class PitchReader {
  // Numbers that will be fractions begin as -0, which engines keep as one: 0 would be kept as a whole number at first,
  // and all code that reads it be compiled twice.

  /** Period in samples of the last window read; 0 where none was found. */
  periodSamples = -0;
  /** Height of the peak at the period, 0..1. */
  clarity = -0;
  /** Height of the highest peak, of a note or not: near 0 in noise. */
  periodicity = -0;
  /** Mean square of the last window after its mean was taken off. */
  power = -0;
  /** Power spectrum of the last Hann window, twice oversampled: `window` + 1 values. */
  readonly spectrum: Float64Array;

  /** Roots of the spectrum, where two reeds are told apart. */
  private readonly amplitudes: Float64Array;
  private readonly window: number;
  private readonly shortestPeriod: number;
  private readonly longestPeriod: number;
  private readonly fft: RealFft;
  private readonly cosines: CosineTransform;
  private readonly hann: Float64Array;
  private readonly windowed: Float64Array;
  /** The window's own correlation, 1 at lag 0, turned over. */
  private readonly perWindow: Float64Array;
  private readonly correlation: Float64Array;
  private readonly candidateLags = new Float64Array(MOST_CANDIDATES);
  private readonly candidateHeights = new Float64Array(MOST_CANDIDATES);
  private candidates = 0;
  private strongest = -0;
  private lastOfTwo = -0;

  /**
   * @param window          samples in a window, a power of two
   * @param shortestPeriod  samples, > 1
   * @param longestPeriod   samples, at most half a window
   */
  constructor(window: number, shortestPeriod: number, longestPeriod: number) {
    this.window = window;
    this.shortestPeriod = shortestPeriod;
    this.longestPeriod = longestPeriod;
    this.fft = new RealFft(2 * window);
    this.cosines = new CosineTransform(window);
    this.hann = Float64Array.from(
      { length: window },
      (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / window),
    );
    this.windowed = new Float64Array(window);
    this.spectrum = new Float64Array(window + 1);
    this.amplitudes = new Float64Array(window + 1);
    // Far beyond half the window its own correlation is too small to divide by.
    this.correlation = new Float64Array(Math.floor(window / 2) + 2 + SPARE_LAGS);
    this.fft.power(this.hann, this.spectrum);
    this.cosines.correlate(this.spectrum, this.correlation);
    const whole = this.correlation[0] as number;
    this.perWindow = this.correlation.map((value) => whole / value);
  }

  /** @param samples one window; left as it is */
  read(samples: Float64Array): void {
    this.periodSamples = 0;
    this.clarity = 0;
    this.periodicity = 0;
    this.prepare(samples);
    if (this.power < 1e-14) {
      this.spectrum.fill(0);
      return; // digital silence: -140 dBFS
    }
    this.strongest = this.fft.power(this.windowed, this.spectrum);
    this.cosines.correlate(this.spectrum, this.correlation);
    this.normalise();
    this.collectCandidates();
    const peak = this.choose();
    const height = peak > 0 ? Math.min(1, heightAt(this.correlation, peak)) : 0;
    if (this.periodicity > SURELY_PERIODIC && height < OF_ONE_REED * this.periodicity) {
      this.readStrongerOfTwo();
    }
    if (peak > 0 && this.periodSamples === 0) {
      this.clarity = height;
      this.periodSamples = sharpenedPeriod(this.correlation, peak);
    }
  }

  /**
   * Two reeds of like strength repeat together with the period of neither, and pull each other's peaks away. The
   * spectrum still tells them apart: by the sum of its harmonics, weighted (Hermes, "Measurement of pitch by
   * subharmonic summation", JASA 83, 1988), the stronger one is found.
   */
  private readStrongerOfTwo(): void {
    const { window, shortestPeriod, longestPeriod } = this;
    const { amplitudes, spectrum } = this;
    for (let k = 0; k <= window; k++) amplitudes[k] = Math.sqrt(spectrum[k] as number);
    let best = 0;
    let most = 0;
    let again = 0;
    let mostAgain = 0;
    for (let period = longestPeriod; period >= shortestPeriod; period /= SUM_STEP) {
      const sum = this.harmonicSum((2 * window) / period);
      const isLast = Math.abs(period / this.lastOfTwo - 1) < SAME_PERIOD;
      if (sum <= (isLast ? mostAgain : most) || !this.hasHarmonics(period)) continue;
      if (isLast) [again, mostAgain] = [period, sum];
      if (sum > most) [best, most] = [period, sum];
    }
    if (best === 0) return;
    // Of two alike the one read last is kept to, lest one chord become a row of short notes.
    this.periodSamples = mostAgain > ALIKE_SUM * most ? again : best;
    this.lastOfTwo = this.periodSamples;
    this.clarity = Math.min(1, this.periodicity);
  }

  private harmonicSum(spacing: number): number {
    const { amplitudes, window } = this;
    let sum = 0;
    let weight = 1;
    for (let k = 1; k <= SUMMED_HARMONICS && k * spacing < window; k++) {
      sum += weight * (amplitudes[Math.round(k * spacing)] as number);
      weight *= SUM_DECAY;
    }
    return sum;
  }

  private prepare(samples: Float64Array): void {
    const { window, windowed, hann } = this;
    let mean = 0;
    for (let i = 0; i < window; i++) mean += samples[i] as number;
    mean /= window;
    let square = 0;
    for (let i = 0; i < window; i++) {
      const value = (samples[i] as number) - mean;
      windowed[i] = value * (hann[i] as number);
      square += value * value;
    }
    this.power = square / window;
  }

  private normalise(): void {
    const { correlation, perWindow } = this;
    const perWhole = 1 / (correlation[0] as number);
    for (let lag = 0; lag < correlation.length; lag++) {
      correlation[lag] = (correlation[lag] as number) * perWhole * (perWindow[lag] as number);
    }
  }

  /** The highest point between each rise through zero and the next fall. */
  private collectCandidates(): void {
    const { correlation, longestPeriod, shortestPeriod } = this;
    this.candidates = 0;
    let lag = 1;
    while (lag < longestPeriod && (correlation[lag] as number) > 0) lag++;
    while (lag < longestPeriod && this.candidates < MOST_CANDIDATES) {
      while (lag < longestPeriod && (correlation[lag] as number) <= 0) lag++;
      let best = lag;
      while (lag <= longestPeriod && (correlation[lag] as number) > 0) {
        if ((correlation[lag] as number) > (correlation[best] as number)) best = lag;
        lag++;
      }
      if (best >= longestPeriod - 1 || best < shortestPeriod - 1) continue;
      const exact = vertexNear(correlation, best);
      this.candidateLags[this.candidates] = exact;
      this.candidateHeights[this.candidates++] = heightAt(this.correlation, exact);
    }
  }

  private choose(): number {
    const { candidates, candidateLags, candidateHeights } = this;
    let highest = 0;
    for (let c = 0; c < candidates; c++) highest = Math.max(highest, candidateHeights[c] as number);
    this.periodicity = highest;
    if (highest < LOWEST_PEAK) return 0;
    let bestHeight = 0;
    for (let c = 0; c < candidates; c++) {
      const height = candidateHeights[c] as number;
      if (height < WORTH_A_LOOK * highest) continue;
      if (!this.hasHarmonics(candidateLags[c] as number)) candidateHeights[c] = 0;
      else if (height > bestHeight) bestHeight = height;
    }
    for (let c = 0; c < candidates; c++) {
      const height = candidateHeights[c] as number;
      if (height > 0 && height >= FIRST_PEAK_SHARE * bestHeight && height >= WORTH_A_LOOK * highest) {
        return candidateLags[c] as number;
      }
    }
    return 0;
  }

  /** Whether the spectrum holds the harmonics that a note of this period would have. */
  private hasHarmonics(period: number): boolean {
    const { spectrum, window } = this;
    const spacing = (2 * window) / period;
    const top = Math.min(HARMONICS_CHECKED, Math.floor((0.85 * window) / spacing));
    let missing = 0;
    let firstIsStrong = false;
    for (let k = 1; k <= top; k++) {
      const bin = Math.round(k * spacing);
      const power = Math.max(
        spectrum[bin - 1] as number,
        spectrum[bin] as number,
        spectrum[bin + 1] as number,
      );
      if (k === 1 && power > 0.5 * this.strongest) return true; // a pure tone has no other
      if (k === 1) firstIsStrong = power > STRONG * this.strongest;
      // Of two notes together neither the first nor the second harmonic of their common period sounds.
      if (k === 2 && firstIsStrong && power > STRONG * this.strongest) return true;
      if (power < MISSING * this.strongest) missing++;
    }
    return missing <= MOST_MISSING;
  }
}
