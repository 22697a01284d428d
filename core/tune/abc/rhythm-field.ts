import type { TuneDance } from "../dances.ts";
import type { Metre } from "../tune.ts";

/** Dances by how R: is usually spelled; the first that fits is taken, so the longer names stand first [P]. */
const SPELLINGS: readonly (readonly [RegExp, TuneDance])[] = [
  [/\b(slip|hop)[ -]?jig/, "slip-jig"],
  [/\bsingle[ -]?jig/, "single-jig"],
  [/\bslides?\b/, "slide"],
  [/\bjigs?\b|\bdoublejig|\bgigu?e?\b/, "jig"],
  [/\bhorn[ -]?pipes?\b/, "hornpipe"],
  [/\bstrath?speys?\b/, "strathspey"],
  [/\bbarn[ -]?dances?\b|\bgerman\b|\bschottis?che?\b/, "barn-dance"],
  [/\bflings?\b/, "fling"],
  [/\bmazurkas?\b|\bmazurca\b|\bvarsovienn?e\b/, "mazurka"],
  [/\bpolkas?\b/, "polka"],
  [/\bwaltz(es)?\b|\bvalse\b|\bvals\b|\bwalzer\b/, "waltz"],
  [/\bmarche?s?\b|\bmarsch\b|\bquick[ -]?step\b/, "march"],
  [/\breels?\b/, "reel"],
];

/** The dance R: names; null if it names none we know. */
export function danceOfRhythm(rhythm: string): TuneDance | null {
  const lower = rhythm.toLowerCase().replace(/[_/]+/g, " ");
  return SPELLINGS.find(([spelling]) => spelling.test(lower))?.[1] ?? null;
}

/** Without R: only 9/8 tells its dance: 6/8 may be a march, 4/4 a reel, a hornpipe, a fling [P]. */
export function danceOfMetre(metre: Metre | null): TuneDance | null {
  return metre?.beats === 9 && metre.unit === 8 ? "slip-jig" : null;
}
