import type { KeptTake, PackedTake, StoredTake } from "./history-entry.ts";
import { LARGEST_WHOLE, packWholes, unpackWholes } from "./whole-samples.ts";

/** What a stored take needs on the disk; null where none is stored. */
export function bytesOfTake(take: StoredTake | null): number | null {
  if (take === null) return null;
  return "packed" in take ? take.packed.byteLength : take.samples.byteLength;
}

/** Packs a take as it is to be stored; in a worker where there is one. */
export type PackTake = (take: KeptTake) => Promise<StoredTake>;

/** In this very thread: a tenth of a second for half a minute of sound. */
export const packTakeHere: PackTake = async (take) => packSamples(take);

export const unpackTake = async (take: StoredTake): Promise<KeptTake> =>
  "packed" in take ? unpackSamples(take) : take;

/** How whole numbers stand for samples: the first byte of what is packed. */
const FORMS = { even: 0, uneven: 1 } as const;
const FULL = 32_768;

/**
 * The samples of a sound card are 16-bit numbers, over 32,768, or the positive ones over 32,767, as browsers make them from what
 * a device gives. Such takes are packed without loss. Others, resampled by the browser or of a finer recording, are rounded to
 * 16 bits of their own peak: no sample moves by more than half a step, 1/65,534 of the loudest, which is -96 dB below it.
 * What is no number counts as silence.
 *
 * @param take peaks above 1 stay
 */
export function packSamples({ samples, sampleRateHz }: KeptTake): PackedTake {
  const { wholes, form, step } = evenWholes(samples) ?? unevenWholes(samples) ?? roundedWholes(samples);
  const bits = packWholes(wholes);
  const packed = new Uint8Array(bits.length + 1);
  packed[0] = form;
  packed.set(bits, 1);
  return { sampleRateHz, count: samples.length, step, packed };
}

/** @throws RangeError if bytes are missing */
export function unpackSamples({ sampleRateHz, count, step, packed }: PackedTake): KeptTake {
  const wholes = unpackWholes(packed.subarray(1), count);
  const up = packed[0] === FORMS.uneven ? 1 / (FULL - 1) : step;
  const samples = Float32Array.from(wholes, (whole) => (whole < 0 ? whole * step : whole * up));
  return { samples, sampleRateHz };
}

interface Wholes {
  readonly wholes: Int32Array;
  readonly form: number;
  readonly step: number;
}

const evenWholes = (samples: Float32Array): Wholes | null => exactly(samples, FORMS.even, FULL);
const unevenWholes = (samples: Float32Array): Wholes | null => exactly(samples, FORMS.uneven, FULL - 1);

/** Null where the samples are not all whole numbers over `up`, or over 32,768 where they are negative. */
function exactly(samples: Float32Array, form: number, up: number): Wholes | null {
  const wholes = new Int32Array(samples.length);
  const step = 1 / FULL;
  const upStep = 1 / up;
  for (let i = 0; i < samples.length; i++) {
    const sample = samples[i] as number;
    const whole = Math.round(sample * (sample < 0 ? FULL : up));
    if (Math.abs(whole) > LARGEST_WHOLE) return null;
    if (Math.fround(whole * (sample < 0 ? step : upStep)) !== sample) return null;
    wholes[i] = whole;
  }
  return { wholes, form, step };
}

function roundedWholes(samples: Float32Array): Wholes {
  let peak = 0;
  for (const sample of samples) if (Number.isFinite(sample)) peak = Math.max(peak, Math.abs(sample));
  const step = peak === 0 ? 1 / FULL : peak / (FULL - 1);
  const wholes = Int32Array.from(samples, (sample) =>
    Number.isFinite(sample) ? Math.round(sample / step) : 0,
  );
  return { wholes, form: FORMS.even, step };
}
