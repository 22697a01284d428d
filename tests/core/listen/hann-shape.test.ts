import { expect, it } from "vitest";
import { hannShapes, SHAPE_REACH, SWELL_IN_THE_MIDDLE } from "../../../core/listen/hann-shape.ts";

/** [calc] The defining integrals over the window, by the midpoint rule: cosine for the even, sine for the odd shape. */
function integral(turns: number, power: number): number {
  const steps = 4000;
  let sum = 0;
  for (let n = 0; n < steps; n++) {
    const u = (2 * (n + 0.5)) / steps - 1;
    const window = 0.5 + 0.5 * Math.cos(Math.PI * u);
    const wave = power === 1 ? Math.sin(Math.PI * turns * u) : Math.cos(Math.PI * turns * u);
    sum += u ** power * window * wave;
  }
  return (sum * 2) / steps;
}

it("the shapes are the Fourier integrals of the Hann window, of u and of u squared times it", () => {
  const shapes = new Float64Array(3);
  for (const turns of [-6.3, -2.2, -1, -0.4, 0, 0.013, 0.5, 1, 1.7, 2, 3.1, 9.9]) {
    hannShapes(turns, shapes);
    // The table is read between steps of 1/32: its error is below a thousandth of the peak, -60 dB.
    expect(shapes[0]).toBeCloseTo(integral(turns, 0), 3);
    expect(shapes[1]).toBeCloseTo(-integral(turns, 1), 3);
    expect(shapes[2]).toBeCloseTo(-integral(turns, 2), 3);
  }
  expect(SWELL_IN_THE_MIDDLE).toBeCloseTo(-integral(0, 2), 6);
});

it("beyond its reach a tone is taken to leave nothing", () => {
  const shapes = new Float64Array([9, 9, 9]);
  hannShapes(SHAPE_REACH + 1, shapes);
  expect([...shapes]).toEqual([0, 0, 0]);
});
