import type { Ratio } from "../../pitch/ratios.ts";
import { bandPower } from "./partial-band.ts";
import { SwingFit } from "./swing-fit.ts";

/** Two reeds that sound together, as far as it is known. */
export interface SoundingPair {
  /** Good to a third of a semitone. */
  readonly lowHz: number;
  readonly highHz: number;
  /** Pure ratio of the interval, over / under. */
  readonly ratio: Ratio;
}

export type HeardBeats =
  | {
      readonly kind: "beats";
      readonly perSecond: number;
      /** Where the rate lies with 19 in 20. */
      readonly from: number;
      readonly to: number;
      /** Natural logarithm of how much better the sound is explained with these beats than without. */
      readonly evidence: number;
      /** From hardly any up to as loud as silent, 0..1, in the partials that beat most. */
      readonly depth: number;
    }
  /** The partials hold still: either the interval is as good as pure, or one reed does not sound. */
  | { readonly kind: "none"; readonly slowerThanPerSecond: number }
  | { readonly kind: "not sure"; readonly why: NotSure };

export type NotSure = "too short" | "too soft" | "the beats do not keep one rate" | "two rates fit alike";

/** Partials that nearly meet: the ratio's own numbers, and their doubles up to fourfold. */
const MOST_PAIRS = 4;
const HIGHEST_HZ = 9000;
/** A band may reach this near to the next partial of either reed, and no wider than this. */
const REACH_SHARE = 0.85;
const WIDEST_REACH_HZ = 60;
/** Beats up to this are told apart from roughness; common practice. */
const FASTEST_PER_SECOND = 15;
/** A beat has to come round so many times to be counted as one. */
const LEAST_TURNS = 1.2;
const SHORTEST_SECONDS = 1.2;
const SLOW_COURSE_DEGREE = 3;
/** Partials softer than the strongest by more than this say nothing. */
const SOFTEST_SHARE = 1e-4;
/** Of a lone partial softer than this the strong ones beside it may show more than it does itself. */
const ALONE_SHARE = 1e-2;
/** What is this near to the strongest of the partials that meet is strong itself. */
const STRONG_SHARE = 0.3;
/** Natural logarithm of the odds from which beats are told, and by which the next best rate must be behind. */
const ENOUGH_EVIDENCE = 14;
const CLEAR_LEAD = 6;
/** [calc] Half of the 95 % point of chi-squared with one degree of freedom: 3.84 / 2. */
const WITHIN_RANGE = 1.92;
/** No reed holds its pitch so evenly that a count is closer than this share of a turn over its whole length. Common practice. */
const LEAST_RANGE_TURNS = 0.05;
/** Power that moves less than this about its slow course holds still. */
const STILL_SHARE = 0.05;
/** What is left of the swing when the best beats are taken away, against all of it, at most. */
const MOST_UNEXPLAINED = 0.6;

interface Band {
  /** Of the pair: beats k times as fast as the interval's. */
  readonly k: number;
  /** Of the power over time, its mean being 1. */
  readonly fit: SwingFit;
  /** How deep that swings about its slow course, 0..1. */
  readonly depth: number;
  /** Among the strong ones, which noise hardly reaches. */
  readonly strong: boolean;
}

/**
 * How often two reeds sounded together beat, from the sound: in the partials of the two that nearly meet (2 low and 1 high in an
 * octave, 3 and 2 in a fifth, 5 and 4 in a third, and their multiples) the power swings at the rate of the beats and its multiples.
 * The rate is the one that explains the swing of all of them best by least squares. A swell of the breath, which partials of
 * either reed alone show as well, is taken off first.
 *
 * @param samples the two reeds, settled; 1.2 s or more, 3 s and more are better
 * @param rateHz  sample rate
 */
export function heardBeats(samples: Float32Array, rateHz: number, pair: SoundingPair): HeardBeats {
  const { over, under } = pair.ratio;
  const lengthSeconds = samples.length / rateHz;
  if (lengthSeconds < SHORTEST_SECONDS) return { kind: "not sure", why: "too short" };
  const spacingHz = Math.min(pair.lowHz / under, pair.highHz / over);
  const reachHz = Math.min(WIDEST_REACH_HZ, REACH_SHARE * spacingHz);
  const stepSeconds = 1 / (2.5 * reachHz);
  const read = (middleHz: number) => bandPower(samples, rateHz, middleHz, reachHz, stepSeconds);
  const meeting = meetingPartials(pair, rateHz).map((middleHz, n) => ({ k: n + 1, power: read(middleHz) }));
  const alone = partialsAlone(pair, rateHz).map(read);
  const loudest = Math.max(...[...meeting.map(({ power }) => power), ...alone].map(mean));
  if (!(loudest > 1e-12)) return { kind: "not sure", why: "too soft" };
  const heard = meeting.filter(({ power }) => mean(power) > SOFTEST_SHARE * loudest);
  if (heard.length === 0) return { kind: "not sure", why: "too soft" };
  const swell = wholeSwell(alone.filter((power) => mean(power) > ALONE_SHARE * loudest));
  const most = Math.max(...heard.map(({ power }) => mean(power)));
  const bands = heard.map(({ k, power }) => {
    const fit = new SwingFit(withoutSwell(power, swell), stepSeconds, SLOW_COURSE_DEGREE);
    const depth = Math.min(1, Math.sqrt((2 * fit.still) / power.length));
    return { k, fit, depth, strong: mean(power) >= STRONG_SHARE * most };
  });
  const spanSeconds = (heard[0]?.power.length ?? 0) * stepSeconds;
  return bestRate(bands, { spanSeconds, reachHz });
}

function meetingPartials({ lowHz, highHz, ratio: { over, under } }: SoundingPair, rateHz: number): number[] {
  const middle = (over * lowHz + under * highHz) / 2;
  const most = Math.min(HIGHEST_HZ, 0.45 * rateHz);
  return Array.from({ length: MOST_PAIRS }, (_, n) => (n + 1) * middle).filter((at) => at < most);
}

/** Partials of one reed alone, the strong low ones: where no partial of the other comes near. */
function partialsAlone({ lowHz, highHz, ratio: { over, under } }: SoundingPair, rateHz: number): number[] {
  const most = Math.min(HIGHEST_HZ, 0.45 * rateHz);
  const of = (hz: number, meets: number) => [1, 2, 3, 4, 5].filter((n) => n % meets !== 0).map((n) => n * hz);
  return [...of(lowHz, over), ...of(highHz, under)].filter((at) => at < most);
}

/** How all lone partials swell together: the mean of their logarithms, each from its own mean; null where there are none. */
function wholeSwell(alone: readonly Float64Array[]): Float64Array | null {
  const [first] = alone;
  if (first === undefined) return null;
  return first.map((_, n) => {
    let sum = 0;
    for (const power of alone)
      sum += Math.log(Math.max(power[n] as number, 1e-3 * mean(power)) / mean(power));
    return sum / alone.length;
  });
}

function withoutSwell(power: Float64Array, swell: Float64Array | null): Float64Array {
  const rest = swell === null ? power : power.map((value, n) => value / Math.exp(swell[n] as number));
  const middle = mean(rest);
  return rest.map((value) => value / middle);
}

interface Span {
  readonly spanSeconds: number;
  readonly reachHz: number;
}

function bestRate(bands: readonly Band[], { spanSeconds, reachHz }: Span): HeardBeats {
  const slowest = LEAST_TURNS / spanSeconds;
  const most = Math.max(...bands.map(({ depth, strong }) => (strong ? depth : 0)));
  if (most < STILL_SHARE) return { kind: "none", slowerThanPerSecond: slowest };
  const used = bands.filter(({ k }) => k * FASTEST_PER_SECOND <= reachHz || k === 1);
  const fastest = Math.min(FASTEST_PER_SECOND, reachHz);
  // Two rates a fifth of a turn apart over the whole length, in the fastest band, are hardly told apart.
  const step = 0.2 / (spanSeconds * Math.max(...used.map(({ k }) => k)));
  const evidenceOf = (rate: number) => evidence(used, rate, spanSeconds, reachHz);
  const tried = evenly(slowest, fastest, step).map((perSecond) => ({
    perSecond,
    evidence: evidenceOf(perSecond),
  }));
  const first = strongest(tried);
  if (first.evidence < ENOUGH_EVIDENCE) return { kind: "not sure", why: "the beats do not keep one rate" };
  const apart = tried.filter(({ perSecond }) => Math.abs(perSecond - first.perSecond) > 1.5 / spanSeconds);
  if (first.evidence - strongest(apart).evidence < CLEAR_LEAD)
    return { kind: "not sure", why: "two rates fit alike" };
  const near = evenly(first.perSecond - 10 * step, first.perSecond + 10 * step, step / 20)
    .filter((perSecond) => perSecond > 0)
    .map((perSecond) => ({ perSecond, evidence: evidenceOf(perSecond) }));
  const best = strongest(near);
  if (unexplained(used, best.perSecond) > MOST_UNEXPLAINED)
    return { kind: "not sure", why: "the beats do not keep one rate" };
  const inRange = near.filter((one) => one.evidence >= best.evidence - WITHIN_RANGE);
  const least = LEAST_RANGE_TURNS / spanSeconds;
  return {
    kind: "beats",
    perSecond: best.perSecond,
    from: Math.max(0, Math.min(best.perSecond - least, ...inRange.map((one) => one.perSecond))),
    to: Math.max(best.perSecond + least, ...inRange.map((one) => one.perSecond)),
    evidence: best.evidence,
    depth: most,
  };
}

interface Tried {
  readonly perSecond: number;
  readonly evidence: number;
}

const strongest = (tried: readonly Tried[]): Tried =>
  tried.reduce((a, b) => (b.evidence > a.evidence ? b : a), { perSecond: 0, evidence: 0 });

const evenly = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.max(0, Math.ceil((to - from) / step)) }, (_, n) => from + n * step);

/**
 * Natural log-likelihood ratio of one rate against none, the noise of each band being unknown and Gaussian. A Hann band has about
 * 0.75 x reach independent values a second ([calc] noise bandwidth 1.5 over its length of 2 / reach).
 */
function evidence(bands: readonly Band[], perSecond: number, spanSeconds: number, reachHz: number): number {
  const independent = 0.75 * reachHz * spanSeconds;
  let sum = 0;
  for (const { k, fit } of bands) {
    const floor = 1e-4 * fit.still + 1e-9;
    sum += (independent / 2) * Math.log((fit.still + floor) / (fit.leftWith(k * perSecond) + floor));
  }
  return sum;
}

/** Share of the swing that these beats leave, over the bands that swing. */
function unexplained(bands: readonly Band[], perSecond: number): number {
  const swinging = bands.filter(({ depth }) => depth >= STILL_SHARE);
  const left = swinging.reduce((sum, { k, fit }) => sum + fit.leftWith(k * perSecond), 0);
  const all = swinging.reduce((sum, { fit }) => sum + fit.still, 0);
  return all === 0 ? 1 : left / all;
}

function mean(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return values.length === 0 ? 0 : sum / values.length;
}
