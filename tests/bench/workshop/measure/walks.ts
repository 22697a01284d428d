import { gaussian, seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { harpInKey, KEYS_BY_REGISTER } from "../../../../core/instrument/harp.ts";
import { STOCK_LAYOUTS } from "../../../../core/instrument/stock-layouts.ts";
import { placesOf, targetMidiOf } from "../../../../core/workshop/measure/harp-sounds.ts";
import { placeNotes, wholeShiftCents } from "../../../../core/workshop/measure/reed-order.ts";
import { type ReedPlace, samePlace } from "../../../../core/workshop/measure/reed-reading.ts";
import { percent } from "./numbers.ts";

const WALKS = 400;
const WAYS = [
  "as asked",
  "a reed left out",
  "a reed repeated later",
  "a bend as a slip",
  "a reed a semitone low",
] as const;
type Way = (typeof WAYS)[number];

interface WalkedNote {
  readonly midi: number;
  /** Null for a slip. */
  readonly place: ReedPlace | null;
}

interface Counts {
  right: number;
  wrong: number;
  unsure: number;
}

/** Recorded walks on harps of every layout and key, reeds 8 cents off at random, the harp up to 20: which reed each note is. */
export function recordedWalks(seeds: readonly number[]): readonly string[] {
  const lines = [
    `recorded walks on harps of every layout, ${WALKS * seeds.length} a line: notes given to the right reed, to a wrong one, "either of two":`,
  ];
  for (const way of WAYS) {
    const counts: Counts = { right: 0, wrong: 0, unsure: 0 };
    for (const seed of seeds) for (let n = 0; n < WALKS; n++) judge(way, seed * 10_000 + n, counts);
    const all = counts.right + counts.wrong + counts.unsure;
    lines.push(
      `  ${way}: ${percent(counts.right, all)} right, ${percent(counts.wrong, all)} wrong, ${percent(counts.unsure, all)} either of two`,
    );
  }
  return lines;
}

function judge(way: Way, seed: number, counts: Counts): void {
  const random = seededRandom(seed);
  const layout = STOCK_LAYOUTS[Math.floor(random() * STOCK_LAYOUTS.length)];
  const key = KEYS_BY_REGISTER[Math.floor(random() * KEYS_BY_REGISTER.length)] ?? "C";
  const harp = layout === undefined ? null : harpInKey(layout, key);
  if (harp === null) throw new Error("a stock layout in a stock key");
  const gauss = gaussian(random);
  const shift = 40 * random() - 20;
  const places = placesOf(harp);
  const off = places.map(() => shift + 8 * gauss());
  const low = Math.floor(random() * places.length);
  if (way === "a reed a semitone low") off[low] = (off[low] ?? 0) - 100;
  const left = Math.floor(random() * places.length);
  const noteOf = (n: number): WalkedNote => {
    const place = places[n] as ReedPlace;
    return { place, midi: targetMidiOf(harp, place) + ((off[n] ?? 0) + 0.7 * gauss()) / 100 };
  };
  const thrice = (n: number) => [noteOf(n), noteOf(n), noteOf(n)];
  const walked = places.flatMap((_, n) => (way === "a reed left out" && n === left ? [] : thrice(n)));
  if (way === "a reed repeated later") walked.push(...thrice(left));
  if (way === "a bend as a slip") {
    const at = 3 * Math.floor(random() * places.length);
    const near = walked[at]?.midi ?? 60;
    walked.splice(at, 0, { place: null, midi: near - 1.4 - 0.2 * random() });
  }
  const told = placeNotes(harp, walked, 3, wholeShiftCents(harp, walked));
  walked.forEach(({ place }, n) => {
    const answer = told[n];
    const isRight =
      place === null ? answer?.place === null : answer?.place != null && samePlace(answer.place, place);
    if (answer?.orElse != null) counts.unsure++;
    else if (isRight) counts.right++;
    else counts.wrong++;
  });
}
