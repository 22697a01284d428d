import { pitchClass, pitchClassOfName } from "../../pitch/note-names.ts";
import type { Midi } from "../../units.ts";
import { keyOfFifths, modeEndingOn, spellingsOfKey } from "../key-signature.ts";
import type { TuneKey } from "../tune.ts";

/** Signatures from the plainest on: of equals the plainer is taken. */
const FIFTHS = [0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6];

/**
 * A key for notes without one: the signature that holds most of their time, in the mode that ends on the last note. Never
 * sure.
 */
export function guessKey(notes: readonly { readonly midi: Midi; readonly lengthTicks: number }[]): TuneKey {
  const time = Array.from({ length: 12 }, () => 0);
  for (const { midi, lengthTicks } of notes) {
    const place = pitchClass(midi);
    time[place] = (time[place] ?? 0) + lengthTicks;
  }
  const held = (fifths: number) =>
    spellingsOfKey(keyOfFifths(fifths, "major", false)).reduce(
      (sum, name) => sum + (time[pitchClassOfName(name) ?? 0] ?? 0),
      0,
    );
  const fifths = FIFTHS.reduce((best, next) => (held(next) > held(best) ? next : best));
  const last = notes.at(-1);
  return keyOfFifths(fifths, (last && modeEndingOn(fifths, last.midi)) ?? "major", false);
}
