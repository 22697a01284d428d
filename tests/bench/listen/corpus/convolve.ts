/** A complex signal: real and imaginary parts of equal length, a power of two. */
interface Complex {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/**
 * Fourier transform in place, radix 2 (Cooley and Tukey 1965).
 *
 * @param sign -1 forward; 1 backward, without the division by the length
 */
function transform({ re, im }: Complex, sign: 1 | -1): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      swap(re, i, j);
      swap(im, i, j);
    }
  }
  const cos = Float64Array.from({ length: n / 2 }, (_, k) => Math.cos((2 * Math.PI * k) / n));
  const sin = Float64Array.from({ length: n / 2 }, (_, k) => sign * Math.sin((2 * Math.PI * k) / n));
  for (let half = 1; half < n; half *= 2) {
    const step = n / (2 * half);
    for (let start = 0; start < n; start += 2 * half) {
      for (let k = 0; k < half; k++) {
        const c = cos[k * step] as number;
        const s = sin[k * step] as number;
        const a = start + k;
        const b = a + half;
        const bRe = (re[b] as number) * c - (im[b] as number) * s;
        const bIm = (re[b] as number) * s + (im[b] as number) * c;
        re[b] = (re[a] as number) - bRe;
        im[b] = (im[a] as number) - bIm;
        re[a] = (re[a] as number) + bRe;
        im[a] = (im[a] as number) + bIm;
      }
    }
  }
}

function swap(values: Float64Array, i: number, j: number): void {
  const kept = values[i] as number;
  values[i] = values[j] as number;
  values[j] = kept;
}

/** Spectrum of a stretch of samples, filled up with zeros. */
function spectrum(samples: Float64Array, size: number): Complex {
  const signal = { re: new Float64Array(size), im: new Float64Array(size) };
  signal.re.set(samples);
  transform(signal, -1);
  return signal;
}

/**
 * The samples heard through a room: convolution by overlap and add (Stockham 1966).
 *
 * @param response impulse response
 * @returns as long as both together
 */
export function convolved(samples: Float64Array, response: Float64Array): Float64Array {
  const size = Math.max(8192, 2 ** Math.ceil(Math.log2(2 * response.length)));
  const stretch = size - response.length + 1;
  const room = spectrum(response, size);
  const out = new Float64Array(samples.length + response.length);
  for (let at = 0; at < samples.length; at += stretch) {
    const part = spectrum(samples.subarray(at, Math.min(samples.length, at + stretch)), size);
    for (let k = 0; k < size; k++) {
      const re = part.re[k] as number;
      const im = part.im[k] as number;
      part.re[k] = re * (room.re[k] as number) - im * (room.im[k] as number);
      part.im[k] = re * (room.im[k] as number) + im * (room.re[k] as number);
    }
    transform(part, 1);
    for (let i = 0; i < size && at + i < out.length; i++) {
      out[at + i] = (out[at + i] as number) + (part.re[i] as number) / size;
    }
  }
  return out;
}
