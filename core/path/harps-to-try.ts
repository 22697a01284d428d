import {
  type Harp,
  HIGHEST_KEY_NOTE,
  harpInKey,
  LOWEST_KEY_NOTE,
  type Register,
  registerOf,
} from "../instrument/harp.ts";
import type { Layout } from "../instrument/layout.ts";
import { STANDARD_A4 } from "../pitch/equal-temperament.ts";
import { keyName, pitchClass, pitchClassOfName } from "../pitch/note-names.ts";
import { midi } from "../units.ts";

/** Which harps come into question. */
export interface HarpWish {
  readonly layouts: readonly Layout[];
  /** Names of keys; all twelve where absent. */
  readonly keys?: readonly string[];
  /** The usual register alone where absent. */
  readonly registers?: readonly Register[];
}

/** As players come by them. */
const COMMONEST_FIRST: readonly Register[] = ["usual", "low", "high"];

/** Every harp of these layouts in these keys and registers that is made: layout by layout, usual ones first, then by pitch. */
export function harpsToTry(wish: HarpWish): readonly Harp[] {
  const { layouts, keys, registers = ["usual"] } = wish;
  const classes = keys?.map((name) => pitchClassOfName(name));
  const notes = Array.from({ length: HIGHEST_KEY_NOTE - LOWEST_KEY_NOTE + 1 }, (_, n) =>
    midi(LOWEST_KEY_NOTE + n),
  ).filter((note) => classes === undefined || classes.includes(pitchClass(note)));
  return layouts.flatMap((layout) => {
    const made = notes.flatMap((note) => harpInKey(layout, keyName(note), STANDARD_A4, note) ?? []);
    return COMMONEST_FIRST.filter((register) => registers.includes(register)).flatMap((register) =>
      made.filter((harp) => registerOf(harp) === register),
    );
  });
}
