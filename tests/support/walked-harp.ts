import { gaussian, seededRandom } from "../../core/exercise/seeded-random.ts";

/** A note of a made-up walk along reeds. */
export interface WalkTone {
  readonly hz: number;
  readonly seconds: number;
  /** Silence after it. */
  readonly restSeconds: number;
  /** A second reed that sounds along: its pitch, and its level against the first. */
  readonly along?: { readonly hz: number; readonly db: number };
  /** Amplitude against the usual 0.1 RMS. */
  readonly gain?: number;
}

export interface ToneSettings {
  readonly rateHz: number;
  readonly seed: number;
  /** Tone over white noise in the full band, dB. */
  readonly snrDb: number;
}

/**
 * The sound of a walk: partials 1 / n^0.7 up to 16 kHz with phases by chance, as free reeds have them (Cottingham, "Free-reed
 * instruments", 2013), over white noise. Shares nothing with the program but its seeded chance.
 *
 * @returns one channel; half a second of room first
 */
export function walkSound(tones: readonly WalkTone[], { rateHz, seed, snrDb }: ToneSettings): Float32Array {
  const random = seededRandom(seed);
  const length = 1 + tones.reduce((sum, tone) => sum + tone.seconds + tone.restSeconds, 0);
  const samples = new Float32Array(Math.ceil(length * rateHz));
  let at = 0.5;
  for (const tone of tones) {
    addTone(samples, rateHz, at, tone.seconds, tone.hz, 0.1 * (tone.gain ?? 1), random);
    if (tone.along !== undefined)
      addTone(samples, rateHz, at, tone.seconds, tone.along.hz, 0.1 * 10 ** (tone.along.db / 20), random);
    at += tone.seconds + tone.restSeconds;
  }
  const noise = gaussian(random);
  const level = 0.1 * 10 ** (-snrDb / 20);
  return samples.map((sample) => sample + level * noise());
}

const ATTACK_SECONDS = 0.03;
const RELEASE_SECONDS = 0.02;

function addTone(
  into: Float32Array,
  rateHz: number,
  fromSeconds: number,
  seconds: number,
  hz: number,
  rms: number,
  random: () => number,
): void {
  const count = Math.max(1, Math.min(40, Math.floor(Math.min(16_000, 0.45 * rateHz) / hz)));
  const strengths = Array.from({ length: count }, (_, k) => (k + 1) ** -0.7);
  const power = strengths.reduce((sum, strength) => sum + strength ** 2 / 2, 0);
  const phases = strengths.map(() => 2 * Math.PI * random());
  const from = Math.round(fromSeconds * rateHz);
  for (let i = 0; i < seconds * rateHz; i++) {
    const t = i / rateHz;
    const level = ramp(t / ATTACK_SECONDS) * ramp((seconds - t) / RELEASE_SECONDS);
    let value = 0;
    for (let k = 0; k < count; k++)
      value += (strengths[k] ?? 0) * Math.sin(2 * Math.PI * (k + 1) * hz * t + (phases[k] ?? 0));
    into[from + i] = (into[from + i] ?? 0) + (rms / Math.sqrt(power)) * level * value;
  }
}

const ramp = (share: number) => (share >= 1 ? 1 : share <= 0 ? 0 : 0.5 - 0.5 * Math.cos(Math.PI * share));
