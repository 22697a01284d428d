/**
 * Power of a narrow band of a sound over time: the sound is brought down by the band's middle and smoothed by a Hann window, whose
 * first zeros lie `reachHz` to either side (Harris, "On the use of windows for harmonic analysis with the discrete Fourier
 * transform", Proceedings of the IEEE 66, 1978). Two partials within it beat in this power.
 *
 * @param samples    one channel
 * @param rateHz     their sample rate
 * @param middleHz   below half of it
 * @param reachHz    > 0
 * @param stepSeconds from one value to the next
 * @returns values from the first to the last moment at which the window lies within the sound; none if it is too short
 */
export function bandPower(
  samples: Float32Array,
  rateHz: number,
  middleHz: number,
  reachHz: number,
  stepSeconds: number,
): Float64Array {
  const half = Math.round(rateHz / reachHz);
  const length = 2 * half + 1;
  const step = stepSeconds * rateHz;
  const count = Math.max(0, Math.floor((samples.length - length) / step) + 1);
  const window = hann(half);
  const power = new Float64Array(count);
  const turn = (2 * Math.PI * middleHz) / rateHz;
  const cos = Float64Array.from({ length }, (_, n) => Math.cos(turn * (n - half)) * (window[n] as number));
  const sin = Float64Array.from({ length }, (_, n) => Math.sin(turn * (n - half)) * (window[n] as number));
  for (let i = 0; i < count; i++) {
    const from = Math.round(i * step);
    let re = 0;
    let im = 0;
    for (let n = 0; n < length; n++) {
      const sample = samples[from + n] as number;
      re += sample * (cos[n] as number);
      im += sample * (sin[n] as number);
    }
    power[i] = re * re + im * im;
  }
  return power;
}

/** A Hann window of 2 half + 1 values whose sum is 1. */
function hann(half: number): Float64Array {
  const window = Float64Array.from(
    { length: 2 * half + 1 },
    (_, n) => 1 + Math.cos((Math.PI * (n - half)) / (half + 1)),
  );
  const sum = window.reduce((all, value) => all + value, 0);
  return window.map((value) => value / sum);
}
