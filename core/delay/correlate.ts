import { RealFft } from "../listen/real-fft.ts";

/**
 * Cross-correlation of a sound with a recording it may lie in: result[lag] = sum over n of sound[n] recording[lag + n],
 * by way of the Fourier transform (Press et al., Numerical Recipes, 3rd ed. 2007, section 13.2).
 *
 * @param sound     m >= 1 samples
 * @param recording m + lags - 1 samples; what is missing at its end counts as silence
 * @param lags      >= 1, how many places are tried, from 0
 */
export function correlate(sound: Float32Array, recording: Float32Array, lags: number): Float64Array {
  const needed = sound.length + lags - 1;
  const size = Math.max(8, 2 ** Math.ceil(Math.log2(needed)));
  const fft = new RealFft(size);
  const spectrumOf = (samples: Float32Array) => {
    const padded = new Float64Array(size);
    padded.set(samples.subarray(0, needed));
    fft.transform(padded);
    return { re: Float64Array.from(fft.re), im: Float64Array.from(fft.im) };
  };
  const heard = spectrumOf(recording);
  const played = spectrumOf(sound);
  const product = new Float64Array(size);
  for (let k = 0; k <= size / 2; k++) {
    const [a, b] = [heard.re[k] ?? 0, heard.im[k] ?? 0];
    const [c, d] = [played.re[k] ?? 0, -(played.im[k] ?? 0)];
    const re = a * c - b * d;
    const im = a * d + b * c;
    // Hartley's form of the spectrum: its transform is its own inverse, so the forward transform leads back as well.
    product[k] = re - im;
    if (k > 0 && k < size / 2) product[size - k] = re + im;
  }
  fft.transform(product);
  return Float64Array.from({ length: lags }, (_, lag) => {
    const k = lag <= size / 2 ? lag : size - lag;
    const im = fft.im[k] ?? 0;
    return ((fft.re[k] ?? 0) - (lag <= size / 2 ? im : -im)) / size;
  });
}
