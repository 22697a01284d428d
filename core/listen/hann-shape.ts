/** Frequencies are counted in turns per window: 1 is one over the window's duration. */
const STEPS_PER_TURN = 32;
/** Beyond this the shape is below -70 dB. */
export const SHAPE_REACH = 12;
/** Below this the quotients lose their digits; the series takes over. */
const SMALL = 0.05;
/** Numbers for each step: steady, growing, swelling. */
const STRIDE = 3;

/**
 * What a tone looks like in a Hann-windowed spectrum whose time zero is the middle of the window: a steady tone, one
 * that grows and one that swells.
 *
 * [calc] With u = -1..1 over the window and D(s) = 2 sin(s) / s, the transform of the window is
 * W(s) = D(s) / 2 + (D(s - pi) + D(s + pi)) / 4; that of u times the window is i dW/ds, of u^2 times it -d2W/ds2.
 * W and its second derivative are even, the first is odd.
 */
const SHAPES = (() => {
  const steps = STEPS_PER_TURN * SHAPE_REACH + 2;
  const values = new Float64Array(STRIDE * steps);
  for (let j = 0; j < steps; j++) {
    const s = (Math.PI * j) / STEPS_PER_TURN;
    [d0, d1, d2].forEach((d, n) => {
      values[STRIDE * j + n] = d(s) / 2 + (d(s - Math.PI) + d(s + Math.PI)) / 4;
    });
  }
  return values;
})();

/**
 * Writes the three shapes at a distance from the tone: W, dW/ds and d2W/ds2.
 *
 * @param turns distance in turns per window; zeros are written beyond `SHAPE_REACH`
 * @param out   receives three numbers
 */
export function hannShapes(turns: number, out: Float64Array): void {
  const at = Math.abs(turns) * STEPS_PER_TURN;
  const j = Math.floor(at) * STRIDE;
  if (j + 2 * STRIDE > SHAPES.length) {
    out.fill(0);
    return;
  }
  const part = at - Math.floor(at);
  for (let n = 0; n < STRIDE; n++) {
    const low = SHAPES[j + n] as number;
    out[n] = low + part * ((SHAPES[j + n + STRIDE] as number) - low);
  }
  if (turns < 0) out[1] = -(out[1] as number);
}

/** [calc] W''(0), as W(0) = 1: minus the window's second moment, 1/3 - 2/pi^2. */
export const SWELL_IN_THE_MIDDLE = 2 / Math.PI ** 2 - 1 / 3;

function d0(s: number): number {
  return Math.abs(s) < SMALL ? 2 - s ** 2 / 3 + s ** 4 / 60 : (2 * Math.sin(s)) / s;
}

function d1(s: number): number {
  if (Math.abs(s) < SMALL) return (-2 * s) / 3 + s ** 3 / 15;
  return (2 * (s * Math.cos(s) - Math.sin(s))) / s ** 2;
}

function d2(s: number): number {
  if (Math.abs(s) < SMALL) return -2 / 3 + s ** 2 / 5;
  return (2 * ((2 - s ** 2) * Math.sin(s) - 2 * s * Math.cos(s))) / s ** 3;
}
