/** Lags on either side that a reading between lags rests on, and the distance of such readings. */
const SINC_REACH = 10;
const FINE_STEP = 0.3;
const STEP_COS = Math.cos(Math.PI / SINC_REACH);
const STEP_SIN = Math.sin(Math.PI / SINC_REACH);
/** Peaks are not looked for in the last lags: readings near them rest on those. */
export const SPARE_LAGS = SINC_REACH + 1;

/** Vertex of the parabola through a lag and its neighbours. */
export function vertexNear(correlation: Float64Array, lag: number): number {
  const a = correlation[lag - 1] as number;
  const b = correlation[lag] as number;
  const c = correlation[lag + 1] as number;
  const bend = a - 2 * b + c;
  return bend < 0 ? lag + Math.max(-1, Math.min(1, (a - c) / (2 * bend))) : lag;
}

/** Height of the correlation at a fractional lag, by the parabola through three. */
export function heightAt(correlation: Float64Array, lag: number): number {
  const near = Math.round(lag);
  const a = correlation[near - 1] as number;
  const b = correlation[near] as number;
  const c = correlation[near + 1] as number;
  const x = lag - near;
  return b + 0.5 * x * (c - a) + 0.5 * x * x * (a - 2 * b + c);
}

/** The peak near each multiple in turn, always a whole number of periods from what the last one promised. */
export function sharpenedPeriod(correlation: Float64Array, first: number): number {
  const lags = correlation.length - SPARE_LAGS;
  let period = first;
  let reached = 1;
  const last = Math.floor((lags - SINC_REACH - 3) / first);
  for (let multiple = 2; multiple <= last; multiple = nextMultiple(multiple, last)) {
    const peak = localPeak(correlation, lags, multiple * period);
    if (peak === 0) break;
    period = peak / multiple;
    reached = multiple;
  }
  return reached === 1 ? period : exactPeak(correlation, reached * period) / reached;
}

/** Vertex of a parabola through three points closer together than the samples, read between them by `between`. */
function exactPeak(correlation: Float64Array, about: number): number {
  const a = between(correlation, about - FINE_STEP);
  const b = between(correlation, about);
  const c = between(correlation, about + FINE_STEP);
  const bend = a - 2 * b + c;
  if (bend >= 0) return about;
  return about + FINE_STEP * Math.max(-2, Math.min(2, (a - c) / (2 * bend)));
}

/** The correlation at a fractional lag, by a sinc under a raised cosine (Boersma 1993, eq. 22). */
function between(correlation: Float64Array, lag: number): number {
  const whole = Math.floor(lag);
  const part = lag - whole;
  if (part < 1e-9) return correlation[whole] as number;
  // sin(pi (part - n)) is the same for all n but for its sign; the raised cosine is turned on from n to n.
  const sine = Math.sin(Math.PI * part) / Math.PI;
  const first = 1 - SINC_REACH;
  let c = Math.cos((Math.PI * (part - first)) / SINC_REACH);
  let s = Math.sin((Math.PI * (part - first)) / SINC_REACH);
  let sum = 0;
  for (let n = first, sign = SINC_REACH % 2 === 0 ? -1 : 1; n <= SINC_REACH; n++, sign = -sign) {
    sum += (sign / (part - n)) * (0.5 + 0.5 * c) * (correlation[whole + n] as number);
    const next = c * STEP_COS + s * STEP_SIN;
    s = s * STEP_COS - c * STEP_SIN;
    c = next;
  }
  return sine * sum;
}

function localPeak(correlation: Float64Array, lags: number, about: number): number {
  let lag = Math.round(about);
  // A true multiple lies within a step or two of where the period promises it.
  for (let step = 0; step < 2; step++) {
    if ((correlation[lag + 1] as number) > (correlation[lag] as number)) lag++;
    else if ((correlation[lag - 1] as number) > (correlation[lag] as number)) lag--;
  }
  if (lag < 1 || lag > lags - 2) return 0;
  const here = correlation[lag] as number;
  if (here < (correlation[lag - 1] as number) || here < (correlation[lag + 1] as number)) return 0;
  return vertexNear(correlation, lag);
}

/** 2, 3, 4, 6, 8, 12 ... and the last: each no more than half as far again, so that a peak cannot be missed by one. */
function nextMultiple(multiple: number, last: number): number {
  if (multiple === last) return last + 1;
  return Math.min(last, Math.ceil(multiple * 1.5));
}
