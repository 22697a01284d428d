/** One pass of the transform: `n` points a group, `stride` groups side by side, turns for p = 0..n/4 - 1. */
export interface Pass {
  readonly n: number;
  readonly stride: number;
  /** cos and sin of p, 2p, 3p turns of 1/n, six numbers for each p. */
  readonly turns: Float64Array;
}

/** Complex numbers. */
export interface Points {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

export function passesFor(points: number): Pass[] {
  const passes: Pass[] = [];
  let stride = 1;
  for (let n = points; n > 1; ) {
    const radix = n === 2 ? 2 : 4;
    const turns: number[] = [];
    for (let p = 0; p < n / 4; p++) {
      for (const times of [1, 2, 3]) {
        const angle = (2 * Math.PI * times * p) / n;
        turns.push(Math.cos(angle), Math.sin(angle));
      }
    }
    passes.push({ n, stride, turns: Float64Array.from(turns) });
    n /= radix;
    stride *= radix;
  }
  return passes;
}

/** The first pass takes the samples themselves, even and odd ones as real and imaginary parts. */
export function firstPass(input: Float64Array, { re: br, im: bi }: Points, { n, turns }: Pass): void {
  const quarter = n >> 2;
  for (let p = 0, t = 0, out = 0; p < quarter; p++, t += 6, out += 4) {
    const at = 2 * p;
    const aRe = input[at] as number;
    const aIm = input[at + 1] as number;
    const bRe = input[at + 2 * quarter] as number;
    const bIm = input[at + 2 * quarter + 1] as number;
    const cRe = input[at + 4 * quarter] as number;
    const cIm = input[at + 4 * quarter + 1] as number;
    const dRe = input[at + 6 * quarter] as number;
    const dIm = input[at + 6 * quarter + 1] as number;
    const c1 = turns[t] as number;
    const s1 = turns[t + 1] as number;
    const c2 = turns[t + 2] as number;
    const s2 = turns[t + 3] as number;
    const c3 = turns[t + 4] as number;
    const s3 = turns[t + 5] as number;
    const sumRe = aRe + cRe;
    const sumIm = aIm + cIm;
    const difRe = aRe - cRe;
    const difIm = aIm - cIm;
    const bdRe = bRe + dRe;
    const bdIm = bIm + dIm;
    // i (b - d)
    const jRe = dIm - bIm;
    const jIm = bRe - dRe;
    br[out] = sumRe + bdRe;
    bi[out] = sumIm + bdIm;
    const re1 = difRe - jRe;
    const im1 = difIm - jIm;
    br[out + 1] = c1 * re1 + s1 * im1;
    bi[out + 1] = c1 * im1 - s1 * re1;
    const re2 = sumRe - bdRe;
    const im2 = sumIm - bdIm;
    br[out + 2] = c2 * re2 + s2 * im2;
    bi[out + 2] = c2 * im2 - s2 * re2;
    const re3 = difRe + jRe;
    const im3 = difIm + jIm;
    br[out + 3] = c3 * re3 + s3 * im3;
    bi[out + 3] = c3 * im3 - s3 * re3;
  }
}

/** The same where the second half is silence: c and d are 0. */
export function firstPassOfPadded(input: Float64Array, { re: br, im: bi }: Points, { n, turns }: Pass): void {
  const quarter = n >> 2;
  for (let p = 0, t = 0, out = 0; p < quarter; p++, t += 6, out += 4) {
    const aRe = input[2 * p] as number;
    const aIm = input[2 * p + 1] as number;
    const bRe = input[2 * (p + quarter)] as number;
    const bIm = input[2 * (p + quarter) + 1] as number;
    const c1 = turns[t] as number;
    const s1 = turns[t + 1] as number;
    const c2 = turns[t + 2] as number;
    const s2 = turns[t + 3] as number;
    const c3 = turns[t + 4] as number;
    const s3 = turns[t + 5] as number;
    br[out] = aRe + bRe;
    bi[out] = aIm + bIm;
    const re1 = aRe + bIm;
    const im1 = aIm - bRe;
    br[out + 1] = c1 * re1 + s1 * im1;
    bi[out + 1] = c1 * im1 - s1 * re1;
    const re2 = aRe - bRe;
    const im2 = aIm - bIm;
    br[out + 2] = c2 * re2 + s2 * im2;
    bi[out + 2] = c2 * im2 - s2 * re2;
    const re3 = aRe - bIm;
    const im3 = aIm + bRe;
    br[out + 3] = c3 * re3 + s3 * im3;
    bi[out + 3] = c3 * im3 - s3 * re3;
  }
}

export function radix4Pass(
  { re: ar, im: ai }: Points,
  { re: br, im: bi }: Points,
  { n, stride, turns }: Pass,
): void {
  const quarter = n >> 2;
  const step = stride * quarter;
  for (let p = 0, t = 0; p < quarter; p++, t += 6) {
    const c1 = turns[t] as number;
    const s1 = turns[t + 1] as number;
    const c2 = turns[t + 2] as number;
    const s2 = turns[t + 3] as number;
    const c3 = turns[t + 4] as number;
    const s3 = turns[t + 5] as number;
    const end = stride * (p + 1);
    let out = 4 * stride * p;
    for (let i = stride * p; i < end; i++, out++) {
      const aRe = ar[i] as number;
      const aIm = ai[i] as number;
      const bRe = ar[i + step] as number;
      const bIm = ai[i + step] as number;
      const cRe = ar[i + 2 * step] as number;
      const cIm = ai[i + 2 * step] as number;
      const dRe = ar[i + 3 * step] as number;
      const dIm = ai[i + 3 * step] as number;
      const sumRe = aRe + cRe;
      const sumIm = aIm + cIm;
      const difRe = aRe - cRe;
      const difIm = aIm - cIm;
      const bdRe = bRe + dRe;
      const bdIm = bIm + dIm;
      // i (b - d)
      const jRe = dIm - bIm;
      const jIm = bRe - dRe;
      br[out] = sumRe + bdRe;
      bi[out] = sumIm + bdIm;
      const re1 = difRe - jRe;
      const im1 = difIm - jIm;
      br[out + stride] = c1 * re1 + s1 * im1;
      bi[out + stride] = c1 * im1 - s1 * re1;
      const re2 = sumRe - bdRe;
      const im2 = sumIm - bdIm;
      br[out + 2 * stride] = c2 * re2 + s2 * im2;
      bi[out + 2 * stride] = c2 * im2 - s2 * re2;
      const re3 = difRe + jRe;
      const im3 = difIm + jIm;
      br[out + 3 * stride] = c3 * re3 + s3 * im3;
      bi[out + 3 * stride] = c3 * im3 - s3 * re3;
    }
  }
}

/** The last pass of four has no turns. */
export function lastRadix4Pass(
  { re: ar, im: ai }: Points,
  { re: br, im: bi }: Points,
  { stride }: Pass,
): void {
  for (let i = 0; i < stride; i++) {
    const aRe = ar[i] as number;
    const aIm = ai[i] as number;
    const bRe = ar[i + stride] as number;
    const bIm = ai[i + stride] as number;
    const cRe = ar[i + 2 * stride] as number;
    const cIm = ai[i + 2 * stride] as number;
    const dRe = ar[i + 3 * stride] as number;
    const dIm = ai[i + 3 * stride] as number;
    const sumRe = aRe + cRe;
    const sumIm = aIm + cIm;
    const difRe = aRe - cRe;
    const difIm = aIm - cIm;
    const bdRe = bRe + dRe;
    const bdIm = bIm + dIm;
    const jRe = dIm - bIm;
    const jIm = bRe - dRe;
    br[i] = sumRe + bdRe;
    bi[i] = sumIm + bdIm;
    br[i + stride] = difRe - jRe;
    bi[i + stride] = difIm - jIm;
    br[i + 2 * stride] = sumRe - bdRe;
    bi[i + 2 * stride] = sumIm - bdIm;
    br[i + 3 * stride] = difRe + jRe;
    bi[i + 3 * stride] = difIm + jIm;
  }
}

export function radix2Pass({ re: ar, im: ai }: Points, { re: br, im: bi }: Points, { stride }: Pass): void {
  for (let i = 0; i < stride; i++) {
    const aRe = ar[i] as number;
    const aIm = ai[i] as number;
    const bRe = ar[i + stride] as number;
    const bIm = ai[i + stride] as number;
    br[i] = aRe + bRe;
    bi[i] = aIm + bIm;
    br[i + stride] = aRe - bRe;
    bi[i + stride] = aIm - bIm;
  }
}
