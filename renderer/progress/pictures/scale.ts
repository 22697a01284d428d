/** A range of values and the few round ones its lines are drawn at. */
export interface Scale {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
}

const ROUND = [1, 2, 5, 10];

/**
 * A scale that holds all values, in about four round steps.
 *
 * @param values finite, any number of them
 * @param floor  the scale goes no lower than this, whatever is rounded; likewise `ceiling`
 */
export function scaleFor(
  values: readonly number[],
  { floor = Number.NEGATIVE_INFINITY, ceiling = Number.POSITIVE_INFINITY } = {},
): Scale {
  const [least, most] = [Math.min(...values), Math.max(...values)];
  if (!Number.isFinite(least) || !Number.isFinite(most)) return { low: 0, high: 1, ticks: [0, 1] };
  // One value alone, or several that differ by rounding only, still need some room about them.
  const isOne = most - least < 1e-6 * Math.max(1, Math.abs(most));
  const span = isOne ? Math.max(Math.abs(most) / 5, 0.01) : most - least;
  const step = roundStep(span / 4);
  const low = Math.max(floor, step * Math.floor((isOne ? least - span / 2 : least) / step));
  const high = Math.min(ceiling, step * Math.ceil((isOne ? most + span / 2 : most) / step));
  const count = Math.round((high - low) / step);
  return {
    low,
    high,
    ticks: Array.from({ length: count + 1 }, (_, place) => exact(low + place * step)),
  };
}

/** The smallest of 1, 2, 5 times a power of ten that is not less. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const found = ROUND.find((one) => one * power >= least * (1 - 1e-9)) ?? 10;
  return found * power;
}

/** Without what adding up binary fractions leaves behind. */
const exact = (value: number) => Number(value.toPrecision(12)) + 0;
