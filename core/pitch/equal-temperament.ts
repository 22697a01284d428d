import { type Cents, cents, type Hz, hz, type Midi, midi } from "../units.ts";

/** ISO 16:1975: A4 is 440 Hz. */
export const STANDARD_A4: Hz = hz(440);
const A4_MIDI = 69;

/**
 * Frequency of a (fractional) MIDI number in twelve-tone equal temperament.
 *
 * @param note MIDI number, any finite value
 * @param a4   frequency of A4 in Hz, > 0
 */
export function midiToHz(note: Midi, a4: Hz = STANDARD_A4): Hz {
  return hz(a4 * 2 ** ((note - A4_MIDI) / 12));
}

/**
 * Fractional MIDI number of a frequency. Our own logarithm: a library rounding to 0.01 semitone is half a cent off.
 *
 * @param frequency Hz, > 0
 * @throws RangeError if the frequency is not > 0: a missing pitch is null, never 0 Hz
 */
export function hzToMidi(frequency: Hz, a4: Hz = STANDARD_A4): Midi {
  if (!(frequency > 0)) throw new RangeError(`a frequency must be above 0 Hz, not ${frequency}`);
  return midi(A4_MIDI + 12 * Math.log2(frequency / a4));
}

/** How far `heard` lies from `target`, in cents; positive when heard is sharp. */
export function centsBetween(heard: Midi, target: Midi): Cents {
  return cents((heard - target) * 100);
}

/** Deviation in cents that moving A4 from 440 Hz to `a4` gives every note. */
export function referencePitchCents(a4: Hz): Cents {
  return cents(1200 * Math.log2(a4 / STANDARD_A4));
}
