/** Test sounds with known pitch and times. Seeded, so that a failure can be repeated. */

/** Numbers in 0..1 by Marsaglia's xorshift32 (2003). */
export function randomSource(seed: number): () => number {
  let state = seed * 2_654_435_761 + 1_013_904_223;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 4_294_967_296;
  };
}

/** White Gaussian noise of the given RMS, by Box and Muller (1958). */
export function noise(count: number, rms: number, seed: number): Float32Array {
  const random = randomSource(seed);
  return Float32Array.from(
    { length: count },
    () => rms * Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()),
  );
}

/** Strength of harmonic k = 1, 2, ... of a waveform. */
export type Waveform = (k: number) => number;

export const waveforms: Readonly<Record<string, Waveform>> = {
  sine: (k) => (k === 1 ? 1 : 0),
  triangle: (k) => (k % 2 === 1 ? 1 / k ** 2 : 0),
  square: (k) => (k % 2 === 1 ? 1 / k : 0),
  sawtooth: (k) => 1 / k,
  /** Many strong harmonics that fall off slowly, as free reeds have (Cottingham, "Modes of reed vibration"). */
  reed: (k) => k ** -0.7,
};

export interface Tone {
  readonly onSeconds: number;
  readonly offSeconds: number;
  readonly hz: number;
  /** RMS of the sustained tone in dBFS. */
  readonly dbfs: number;
  readonly waveform?: Waveform;
  readonly attackSeconds?: number;
}

/** Full scale at `offSeconds`, silent 20 ms later; raised-cosine ramps. */
export function addTone(samples: Float32Array, rate: number, tone: Tone): void {
  const { onSeconds, offSeconds, hz, attackSeconds = 0.02, waveform = waveforms.reed as Waveform } = tone;
  const strengths: number[] = [];
  for (let k = 1; k * hz < Math.min(16_000, rate * 0.45) && k <= 40; k++) strengths.push(waveform(k));
  const rms = Math.sqrt(strengths.reduce((sum, a) => sum + a * a, 0) / 2);
  const gain = 10 ** (tone.dbfs / 20) / rms;
  const from = Math.round(onSeconds * rate);
  const to = Math.min(samples.length, Math.round((offSeconds + 0.02) * rate));
  for (let i = from; i < to; i++) {
    const t = i / rate;
    const level = ramp((t - onSeconds) / attackSeconds) * (1 - ramp((t - offSeconds) / 0.02));
    const turn = 2 * Math.PI * hz * (t - onSeconds);
    let value = 0;
    // Phases k^2 keep the harmonics from piling up in one peak (Schroeder 1970).
    for (let k = 1; k <= strengths.length; k++)
      value += (strengths[k - 1] as number) * Math.sin(k * turn + k * k);
    samples[i] = (samples[i] as number) + gain * level * value;
  }
}

const ramp = (u: number) => (u <= 0 ? 0 : u >= 1 ? 1 : 0.5 - 0.5 * Math.cos(Math.PI * u));

/** A take with the given tones. */
export function take(rate: number, lengthSeconds: number, tones: readonly Tone[]): Float32Array {
  const samples = new Float32Array(Math.round(lengthSeconds * rate));
  for (const tone of tones) addTone(samples, rate, tone);
  return samples;
}
