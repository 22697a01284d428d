import { DropoutMender } from "../dropout-mender.ts";
import { HalfBand } from "../half-band.ts";

/** Rates from here on are halved: reeds have nothing to say above 10 kHz. */
const HALVED_FROM_HZ = 40_000;

/** A take made ready to hear chords in. */
export interface ChordSound {
  readonly samples: Float64Array;
  readonly rateHz: number;
}

/** Bridges the dropouts of a sound driver and halves the rate, as the listener of single notes does. */
export function chordSound(take: Float32Array, sampleRateHz: number): ChordSound {
  const mender = new DropoutMender(sampleRateHz);
  // A push is good until the next call: each is copied first.
  let samples = joined(Float64Array.from(mender.push(take)), mender.finish());
  let rateHz = sampleRateHz;
  while (rateHz >= HALVED_FROM_HZ) {
    const half = new HalfBand();
    samples = joined(Float64Array.from(half.push(samples)), half.finish());
    rateHz /= 2;
  }
  return { samples, rateHz };
}

function joined(head: Float64Array, tail: ArrayLike<number>): Float64Array<ArrayBuffer> {
  const whole = new Float64Array(head.length + tail.length);
  whole.set(head);
  whole.set(tail, head.length);
  return whole;
}
