import { STANDARD_A4 } from "../pitch/equal-temperament.ts";
import { keyName, pitchClass, pitchClassOfName } from "../pitch/note-names.ts";
import { type Hz, type Midi, midi } from "../units.ts";
import { type Breath, type Layout, reedAt, reedsOf } from "./layout.ts";
import type { HoleCents, Temperament } from "./temperament.ts";

/** A layout in a key and register, tuned. */
export interface Harp {
  readonly layout: Layout;
  /** Name of the key note without octave, as the player calls it: "G", "Bb". */
  readonly key: string;
  /** The key note the layout's semitones count from. */
  readonly keyNote: Midi;
  readonly a4: Hz;
  /** How the reeds are tuned against each other; equal where absent. */
  readonly temperament?: Temperament;
  /**
   * How far each reed was measured from what it should sound, hole 1 first; absent where nobody measured. Not a tuning
   * anyone wants: marks take it off the player's cents.
   */
  readonly reedOffsets?: readonly HoleCents[];
}

/** Where a key lies: as usually sold, an octave below that, or an octave above. */
export type Register = "low" | "usual" | "high";
export const REGISTERS: readonly Register[] = ["low", "usual", "high"];
const OCTAVES_UP: Readonly<Record<Register, number>> = { low: -12, usual: 0, high: 12 };

/** Lowest key note of the twelve stock keys: G3. Source: encyclopedia article "Richter-tuned harmonica" (hole 1 blow G3 … F#4). */
const LOWEST_USUAL_KEY_NOTE = 55;
/** Key notes of all sets, low C up to high G. From memory; no published list was seen. */
export const LOWEST_KEY_NOTE: Midi = midi(48);
export const HIGHEST_KEY_NOTE: Midi = midi(67);
/** What those sets sound with the standard layout: C3 to G7. */
export const LOWEST_SOUND: Midi = midi(48);
export const HIGHEST_SOUND: Midi = midi(103);

/**
 * A harp in one of the twelve keys, equally tempered.
 *
 * @param where "usual": key note from G3 (55) up to F#4 (66); "low" an octave lower, down to C3 (48); "high" an octave
 *              higher, up to G4 (67); or the key note itself, 48 to 67
 * @returns null if the name is not a key, there is no such register of it, or the key note has another name
 */
export function harpInKey(
  layout: Layout,
  key: string,
  a4: Hz = STANDARD_A4,
  where: Register | Midi = "usual",
): Harp | null {
  const wanted = pitchClassOfName(key);
  if (wanted === null) return null;
  const keyNote = typeof where === "number" ? where : usualKeyNote(wanted) + OCTAVES_UP[where];
  if (pitchClass(keyNote) !== wanted || keyNote < LOWEST_KEY_NOTE || keyNote > HIGHEST_KEY_NOTE) return null;
  return { layout, key: key.charAt(0).toUpperCase() + key.slice(1), keyNote: midi(keyNote), a4 };
}

const usualKeyNote = (wanted: number) => LOWEST_USUAL_KEY_NOTE + pitchClass(wanted - LOWEST_USUAL_KEY_NOTE);

/** The registers a key is made in: "low" from C to F#, "high" for G alone; none for a name that is not a key. */
export function registersOfKey(key: string): readonly Register[] {
  const wanted = pitchClassOfName(key);
  if (wanted === null) return [];
  return REGISTERS.filter((register) => {
    const keyNote = usualKeyNote(wanted) + OCTAVES_UP[register];
    return keyNote >= LOWEST_KEY_NOTE && keyNote <= HIGHEST_KEY_NOTE;
  });
}

/** The register a harp's key note lies in. */
export function registerOf(harp: Harp): Register {
  const above = harp.keyNote - usualKeyNote(pitchClass(harp.keyNote));
  if (above === 0) return "usual";
  return above < 0 ? "low" : "high";
}

/** The same harp tuned another way. */
export function withTemperament(harp: Harp, temperament: Temperament): Harp {
  return { ...harp, temperament };
}

/** The note of a plain reed, or null if there is no such reed. */
export function reedNote(harp: Harp, hole: number, breath: Breath): Midi | null {
  const reed = reedAt(harp.layout, hole, breath);
  return reed === null ? null : midi(harp.keyNote + reed);
}

/** Lowest and highest plain note of a harp. */
export function soundingRange(harp: Harp): { readonly low: Midi; readonly high: Midi } {
  const notes = reedsOf(harp.layout).map((reed) => harp.keyNote + reed.sounds);
  return { low: midi(Math.min(...notes)), high: midi(Math.max(...notes)) };
}

/** "G harp", "low D harp", and the layout where it is not the standard one. */
export function harpName(harp: Harp): string {
  const register = registerOf(harp);
  const layout = harp.layout.id === "standard" ? "" : `, ${harp.layout.name}`;
  return `${register === "usual" ? "" : `${register} `}${harp.key} harp${layout}`;
}

/** The key such a harp is usually labelled with: "G" for a raised 3-blow with raised 4ths whose key note is C. */
export function labelName(harp: Harp): string {
  const { labelKey = 0 } = harp.layout;
  return labelKey === 0 ? harp.key : keyName(harp.keyNote + labelKey);
}

/** All twelve key names in rising register from G3. */
export const KEYS_BY_REGISTER: readonly string[] = Array.from({ length: 12 }, (_, step) =>
  keyName(LOWEST_USUAL_KEY_NOTE + step),
);
