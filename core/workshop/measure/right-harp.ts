import { type Harp, harpInKey, KEYS_BY_REGISTER, registerOf } from "../../instrument/harp.ts";
import { STOCK_LAYOUTS } from "../../instrument/stock-layouts.ts";
import { targetMidiOf } from "./harp-sounds.ts";
import { placeNotes, type WalkedNote, wholeShiftCents } from "./reed-order.ts";
import { OWN_CENTS } from "./walk.ts";

/** Too many notes of a recording are no reeds of the harp that was told, or lie far off them. */
export interface HarpDoubt {
  readonly strangers: number;
  readonly of: number;
  /** A harp that fits much better; null where none of those tried does. */
  readonly better: Harp | null;
}

/** From this share on it is likely another harp; judged from walks of one stock harp told as another. */
const DOUBTFUL_SHARE = 0.2;
const FEWEST_NOTES = 6;
/** More say no more, and trying every harp on an hour of them takes long. */
const MOST_NOTES = 240;

/** Whether a recorded walk is likely one of another harp than was told; null where nothing says so. */
export function harpDoubt(harp: Harp, walked: readonly WalkedNote[], usual: number): HarpDoubt | null {
  const notes = walked.slice(0, MOST_NOTES);
  const strangers = strangersOf(harp, notes, usual);
  if (notes.length < FEWEST_NOTES || strangers < DOUBTFUL_SHARE * notes.length) return null;
  const tried = otherHarps(harp).map((other) => ({ other, strangers: strangersOf(other, notes, usual) }));
  const best = tried.reduce((a, b) => (b.strangers < a.strangers ? b : a), { other: harp, strangers });
  const isBetter = best.strangers <= strangers / 2 && best.strangers < DOUBTFUL_SHARE * notes.length;
  return { strangers, of: notes.length, better: isBetter ? best.other : null };
}

/** The same layout in every key and register, the standard one first; the same key in every layout of the catalogue. */
function otherHarps(harp: Harp): readonly Harp[] {
  const keys = KEYS_BY_REGISTER.flatMap((key) =>
    (["usual", "low", "high"] as const).map((register) => harpInKey(harp.layout, key, harp.a4, register)),
  );
  const layouts = STOCK_LAYOUTS.map((layout) => harpInKey(layout, harp.key, harp.a4, registerOf(harp)));
  return [...keys, ...layouts].filter((other) => other !== null);
}

/** Notes that are no reed of a harp, or far from it. */
function strangersOf(harp: Harp, notes: readonly WalkedNote[], usual: number): number {
  const shift = wholeShiftCents(harp, notes);
  const placed = placeNotes(harp, notes, usual, shift);
  return placed.filter(({ place }, n) => {
    if (place === null) return true;
    const off = 100 * ((notes[n]?.midi ?? 0) - targetMidiOf(harp, place)) - shift;
    return Math.abs(off) > OWN_CENTS;
  }).length;
}
