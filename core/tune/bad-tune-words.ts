import type { BadTune, Place } from "./tune.ts";

/** "tune 12 (title), line 340, column 5: what is wrong". */
export function badTuneInWords({ number, title, place, reason }: BadTune): string {
  const called = [number === null ? "a tune" : `tune ${number}`, title === null ? "" : ` (${title})`];
  return `${called.join("")}${placeInWords(place)}: ${reason}`;
}

/** ", line 340, column 5"; empty where there is no place. */
export const placeInWords = (place: Place | null): string =>
  place === null ? "" : `, line ${place.line}, column ${place.column}`;
