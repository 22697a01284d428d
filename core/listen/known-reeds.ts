import type { ChordReed } from "./chords/chord-reeds.ts";

/** A sound of the instrument in hand, and the reeds that may leak into it. */
export interface KnownSound {
  /** Fractional MIDI, A4 = 440 Hz. */
  readonly midi: number;
  /** Plain reeds of the neighbouring holes in the same breath, fractional MIDI. */
  readonly besideMidi: readonly number[];
  /** Which plain reed it is, where chords are to be listened for. */
  readonly reed?: { readonly hole: number; readonly breath: "blow" | "draw" };
}

/**
 * The reeds of the instrument in hand, as prior knowledge: where a second reed may be looked for. What note sounds is
 * never decided by it: a bent or wrong note stays where it was heard.
 */
export type KnownReeds = readonly KnownSound[];

/** The plain reeds that chords are listened for with; none where they are not. */
export function reedsForChords(known: KnownReeds): readonly ChordReed[] {
  return known.flatMap(({ midi, reed }) => (reed === undefined ? [] : [{ ...reed, midi }]));
}

/** A bend on its way lies up to half a semitone from the nearest one that is a note, and a little. */
const SAME_SOUND_SEMITONES = 0.6;

/** Reeds that may sound along with a pitch; null where the instrument does not make it, and nothing is known. */
export function reedsBeside(known: KnownReeds, midi: number): readonly number[] | null {
  const sounds = known.filter((sound) => Math.abs(sound.midi - midi) < SAME_SOUND_SEMITONES);
  return sounds.length === 0 ? null : sounds.flatMap(({ besideMidi }) => besideMidi);
}
