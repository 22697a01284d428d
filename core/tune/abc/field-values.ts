import { quoted } from "../../reading/quoting.ts";
import type { Metre } from "../tune.ts";
import { MOST_BEATS } from "./limits.ts";

/** A value of a field, or one sentence saying why it is none. */
export type Read<T> =
  | { readonly kind: "value"; readonly value: T }
  | { readonly kind: "unreadable"; readonly reason: string };

export const read = <T>(value: T): Read<T> => ({ kind: "value", value });
export const unreadable = (reason: string): { kind: "unreadable"; reason: string } => ({
  kind: "unreadable",
  reason,
});

const UNITS = [1, 2, 4, 8, 16, 32, 64];

/**
 * M: "6/8", "C", "C|", "(2+3+2)/8", "none" or nothing (ABC 2.1, 3.1.6).
 *
 * @returns null for a free metre
 */
export function readMetre(text: string): Read<Metre | null> {
  const value = text.replace(/\s+/g, "");
  if (value === "" || value.toLowerCase() === "none") return read(null);
  if (value === "C" || value === "c") return read({ beats: 4, unit: 4 });
  if (value === "C|" || value === "c|") return read({ beats: 2, unit: 2 });
  const parts = /^\(?(\d+(?:\+\d+)*)\)?\/(\d+)$/.exec(value);
  if (parts === null) return unreadable(`M:${quoted(text)} is no metre`);
  const beats = (parts[1] ?? "").split("+").reduce((sum, beat) => sum + Number(beat), 0);
  const unit = Number(parts[2]);
  if (beats < 1 || beats > MOST_BEATS || !UNITS.includes(unit)) {
    return unreadable(
      `M:${quoted(text)} is no metre: beats go from 1 to ${MOST_BEATS}, units are ${UNITS.join(", ")}`,
    );
  }
  return read({ beats, unit });
}

/** L: "1/8", "1" (ABC 2.1, 3.1.7), as a number of semibreves. */
export function readUnitLength(text: string): Read<number> {
  const parts = /^(\d+)(?:\/(\d+))?$/.exec(text.replace(/\s+/g, ""));
  const length = parts === null ? 0 : Number(parts[1]) / Number(parts[2] ?? 1);
  const fits = length >= 1 / 512 && length <= 4 && Number.isInteger(length * 512);
  return fits ? read(length) : unreadable(`L:${quoted(text)} is no note length`);
}

/** Without L: metres under three quarters of a semibreve count semiquavers, all others quavers (ABC 2.1, 3.1.7). */
export function usualUnitLength(metre: Metre | null): number {
  return metre !== null && metre.beats / metre.unit < 0.75 ? 1 / 16 : 1 / 8;
}
