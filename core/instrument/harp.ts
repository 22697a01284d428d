import { STANDARD_A4 } from "../pitch/equal-temperament.ts";
import { keyName, pitchClassOfName } from "../pitch/note-names.ts";
import { type Hz, type Midi, midi } from "../units.ts";
import { type Breath, type Layout, reedAt } from "./layout.ts";

/** A layout in a key and register. Its temperament is equal. */
export interface Harp {
  readonly layout: Layout;
  /** Name of the key note without octave, as the player calls it: "G", "Bb". */
  readonly key: string;
  /** The key note the layout's semitones count from. */
  readonly keyNote: Midi;
  readonly a4: Hz;
}

/** Lowest key note of the twelve stock keys: G3. Source: encyclopedia article "Richter-tuned harmonica" (hole 1 blow G3 … F#4). */
const LOWEST_KEY_NOTE = 55;

/**
 * A harp in one of the twelve keys, in its usual register: key note from G3 (55) up to F#4 (66).
 *
 * @returns null if the name is not a key
 */
export function harpInKey(layout: Layout, key: string, a4: Hz = STANDARD_A4): Harp | null {
  const wanted = pitchClassOfName(key);
  if (wanted === null) return null;
  const keyNote = LOWEST_KEY_NOTE + ((wanted - (LOWEST_KEY_NOTE % 12) + 12) % 12);
  return { layout, key: key.charAt(0).toUpperCase() + key.slice(1), keyNote: midi(keyNote), a4 };
}

/** The note of a plain reed, or null if there is no such reed. */
export function reedNote(harp: Harp, hole: number, breath: Breath): Midi | null {
  const reed = reedAt(harp.layout, hole, breath);
  return reed === null ? null : midi(harp.keyNote + reed);
}

/** "G harp", and the layout where it is not the standard one. */
export function harpName(harp: Harp): string {
  const layout = harp.layout.id === "standard" ? "" : `, ${harp.layout.name}`;
  return `${harp.key} harp${layout}`;
}

/** All twelve key names in rising register from G3. */
export const KEYS_BY_REGISTER: readonly string[] = Array.from({ length: 12 }, (_, step) =>
  keyName(LOWEST_KEY_NOTE + step),
);
