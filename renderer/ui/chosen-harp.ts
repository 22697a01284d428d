import * as v from "valibot";
import {
  type Harp,
  harpInKey,
  type Register,
  registerOf,
  registersOfKey,
  withTemperament,
} from "../../core/instrument/harp.ts";
import { harpShape } from "../../core/instrument/harp-shape.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { checkLayout, LAYOUT_SCHEMA, LAYOUT_VERSION } from "../../core/instrument/layout-json.ts";
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

/** A harp as the form has it; what was measured of its reeds is not part of a choice. */
export function choiceOfHarp(harp: Harp): ChosenHarp {
  return {
    layout: harp.layout,
    key: harp.key,
    register: registerOf(harp),
    temperament: harp.temperament ?? EQUAL,
  };
}

/** The harp of a choice. @throws RangeError for a key or register the form does not offer */
export function harpOfChoice(chosen: ChosenHarp, a4Hz: number): Harp {
  const harp = harpInKey(chosen.layout, chosen.key, hz(a4Hz), chosen.register);
  if (harp === null) throw new RangeError(`there is no ${chosen.register} ${chosen.key} harp`);
  return withTemperament(harp, chosen.temperament);
}

/** The choice in kept data of unknown shape; null where it is none, or no such harp is made. */
export function keptChoice(kept: unknown): ChosenHarp | null {
  const read = v.safeParse(harpShape, kept);
  if (!read.success) return null;
  const layout = checkLayout({ ...read.output.layout, schema: LAYOUT_SCHEMA, version: LAYOUT_VERSION });
  if (layout.kind === "unreadable") return null;
  const chosen = { ...choiceOfHarp(read.output as unknown as Harp), layout: layout.layout };
  return registersOfKey(chosen.key).includes(chosen.register) ? chosen : null;
}
