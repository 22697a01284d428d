import { type Harp, harpInKey } from "../../core/instrument/harp.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { hz } from "../../core/units.ts";

/** A stock harp in a key that is known to be one. */
export function harp(key: string, a4Hz = 440): Harp {
  const found = harpInKey(STANDARD_LAYOUT, key, hz(a4Hz));
  if (found === null) throw new Error(`"${key}" is not a key`);
  return found;
}
