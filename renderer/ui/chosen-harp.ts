import {
  type Harp,
  harpInKey,
  type Register,
  registersOfKey,
  withTemperament,
} from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { EQUAL, type Temperament } from "../../core/instrument/temperament.ts";
import { hz } from "../../core/units.ts";

/** A harp as it is chosen in a form. */
export interface ChosenHarp {
  readonly layout: Layout;
  readonly key: string;
  /** One that the key is made in; see `inKey`. */
  readonly register: Register;
  readonly temperament: Temperament;
}

export const FIRST_HARP: ChosenHarp = {
  layout: STANDARD_LAYOUT,
  key: "G",
  register: "usual",
  temperament: EQUAL,
};

/** The choice in another key; a register that key is not made in becomes the usual one. */
export function inKey(chosen: ChosenHarp, key: string): ChosenHarp {
  const register = registersOfKey(key).includes(chosen.register) ? chosen.register : "usual";
  return { ...chosen, key, register };
}

/** The harp of a choice. @throws RangeError for a key or register the form does not offer */
export function harpOfChoice(chosen: ChosenHarp, a4Hz: number): Harp {
  const harp = harpInKey(chosen.layout, chosen.key, hz(a4Hz), chosen.register);
  if (harp === null) throw new RangeError(`there is no ${chosen.register} ${chosen.key} harp`);
  return withTemperament(harp, chosen.temperament);
}
