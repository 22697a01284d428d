import { semitones } from "../units.ts";
import { type Layout, layoutFromRows } from "./layout.ts";

/** One layout of the catalogue: its reeds in semitones above the key note, and where they come from. */
interface LayoutRow {
  readonly id: string;
  readonly name: string;
  readonly blow: readonly number[];
  readonly draw: readonly number[];
  /** Positions count from the key note plus this. Written out in every row, because labels hide it. */
  readonly positionKey: number;
  /** The usual label, above the key note: many altered harps are labelled by the key of their second position. */
  readonly labelKey: number;
  readonly source: string;
}

const RICHTER = 'encyclopedia article "Richter tuning"';
const LAYOUT_TABLE = 'encyclopedia-derived layout table (liquisearch.com, "Specially-tuned instruments")';
const CIRCULAR =
  "Circular-tuned layouts (geocities.ws/harpin_russ/Circular.html); labels: harp-l, December 2013, msg 314";

/** Rows of reeds that several layouts share: the blow chord, and its minor form. */
const MAJOR_BLOW = [0, 4, 7, 12, 16, 19, 24, 28, 31, 36];
const MINOR_BLOW = [0, 3, 7, 12, 15, 19, 24, 27, 31, 36];
const RAISED_BLOW = [0, 4, 9, 12, 16, 19, 24, 28, 31, 36];
const STOCK_DRAW = [2, 7, 11, 14, 17, 21, 23, 26, 29, 33];
const RAISED_FOURTHS_DRAW = [2, 7, 11, 14, 18, 21, 23, 26, 30, 33];

// biome-ignore format: one row a layout
const STANDARD_ROW: LayoutRow =
  { id: "standard", name: "standard", blow: MAJOR_BLOW, draw: STOCK_DRAW, positionKey: 0, labelKey: 0, source: `OEIS A291810; ${RICHTER}` };

// biome-ignore format: one row a layout
const OTHER_ROWS: readonly LayoutRow[] = [
  { id: "country", name: "country (5 draw raised)", blow: MAJOR_BLOW, draw: [2, 7, 11, 14, 18, 21, 23, 26, 29, 33], positionKey: 0, labelKey: 0, source: RICHTER },
  { id: "major-seventh", name: "major seventh (5 and 9 draw raised)", blow: MAJOR_BLOW, draw: RAISED_FOURTHS_DRAW, positionKey: 0, labelKey: 0, source: RICHTER },
  { id: "raised-third-blow", name: "raised 3-blow", blow: RAISED_BLOW, draw: STOCK_DRAW, positionKey: 0, labelKey: 0, source: "memory, checked by arithmetic: 20 different pitches" },
  // Counted from hole 1 blow, so that the plain major scale lies in second position; the label names that second position.
  { id: "raised-third-blow-with-raised-fourths", name: "raised 3-blow with raised 4ths", blow: RAISED_BLOW, draw: RAISED_FOURTHS_DRAW, positionKey: 0, labelKey: 7, source: RICHTER },
  { id: "natural-minor-second-position", name: "natural minor in 2nd position", blow: MINOR_BLOW, draw: [2, 7, 10, 14, 17, 21, 22, 26, 29, 33], positionKey: 0, labelKey: 7, source: `${LAYOUT_TABLE}, 10 draw put right as its octave asks` },
  { id: "natural-minor-first-position", name: "natural minor in 1st position", blow: MINOR_BLOW, draw: [2, 7, 10, 14, 17, 20, 22, 26, 29, 32], positionKey: 0, labelKey: 0, source: "arithmetic: C natural minor on the stock pattern" },
  { id: "harmonic-minor", name: "harmonic minor in 1st position", blow: MINOR_BLOW, draw: [2, 7, 11, 14, 17, 20, 23, 26, 29, 32], positionKey: 0, labelKey: 0, source: `${RICHTER}; ${LAYOUT_TABLE}` },
  { id: "dorian-second-position", name: "Dorian in 2nd position", blow: MAJOR_BLOW, draw: [2, 7, 10, 14, 17, 21, 22, 26, 29, 33], positionKey: 0, labelKey: 7, source: "memory, checked by arithmetic: G Dorian on a C harp" },
  { id: "solo-10", name: "solo, 10 holes", blow: [0, 4, 7, 12, 12, 16, 19, 24, 24, 28], draw: [2, 5, 9, 11, 14, 17, 21, 23, 26, 29], positionKey: 0, labelKey: 0, source: RICHTER },
  { id: "solo-12", name: "solo, 12 holes", blow: [0, 4, 7, 12, 12, 16, 19, 24, 24, 28, 31, 36], draw: [2, 5, 9, 11, 14, 17, 21, 23, 26, 29, 33, 35], positionKey: 0, labelKey: 0, source: "arithmetic: the solo rule over three octaves" },
  { id: "circular-from-the-fifth", name: "circular, from the fifth", blow: [-5, -1, 2, 5, 9, 12, 16, 19, 23, 26], draw: [-3, 0, 4, 7, 11, 14, 17, 21, 24, 28], positionKey: 0, labelKey: 0, source: CIRCULAR },
  { id: "circular-from-the-key", name: "circular, from the key note", blow: [0, 4, 7, 11, 14, 17, 21, 24, 28, 31], draw: [2, 5, 9, 12, 16, 19, 23, 26, 29, 33], positionKey: 0, labelKey: 0, source: "arithmetic: the circular rule begun on the key note" },
  { id: "diminished", name: "diminished", blow: [0, 3, 6, 9, 12, 15, 18, 21, 24, 27], draw: [2, 5, 8, 11, 14, 17, 20, 23, 26, 29], positionKey: 0, labelKey: 0, source: "Diminished tuning note (alfredhirsch.de)" },
  { id: "augmented", name: "augmented", blow: [0, 4, 8, 12, 16, 20, 24, 28, 32, 36], draw: [3, 7, 11, 15, 19, 23, 27, 31, 35, 39], positionKey: 0, labelKey: 0, source: "memory, checked by arithmetic: all twelve notes with two draw bends a hole" },
  { id: "extended-16", name: "extended standard, 16 holes", blow: [-5, 0, 4, 7, 12, 16, 19, 24, 28, 31, 36, 40, 43, 48, 52, 55], draw: [-1, 2, 7, 11, 14, 17, 21, 23, 26, 29, 33, 35, 38, 41, 45, 47], positionKey: 0, labelKey: 0, source: RICHTER },
];

function layoutOfRow(row: LayoutRow): Layout {
  return {
    ...layoutFromRows(row.id, row.name, row),
    ...(row.positionKey === 0 ? {} : { positionKey: semitones(row.positionKey) }),
    ...(row.labelKey === 0 ? {} : { labelKey: semitones(row.labelKey) }),
  };
}

/** The layout ten-hole diatonic harmonicas are sold in. */
export const STANDARD_LAYOUT: Layout = layoutOfRow(STANDARD_ROW);

/** Every layout the program knows, the standard one first. */
export const STOCK_LAYOUTS: readonly Layout[] = [STANDARD_LAYOUT, ...OTHER_ROWS.map(layoutOfRow)];

/** The stock layout with this id, or null. */
export function stockLayout(id: string): Layout | null {
  return STOCK_LAYOUTS.find((layout) => layout.id === id) ?? null;
}

/** Where a stock layout's notes come from; null if the id is none of the catalogue's. */
export function layoutSource(id: string): string | null {
  return [STANDARD_ROW, ...OTHER_ROWS].find((row) => row.id === id)?.source ?? null;
}

const plainWords = (text: string) =>
  text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");

/** The stock layout of an id or name as typed: "raised third blow with raised fourths", "Raised 3-blow"; or null. */
export function layoutOfWords(text: string): Layout | null {
  const wanted = plainWords(text);
  return STOCK_LAYOUTS.find((layout) => layout.id === wanted || plainWords(layout.name) === wanted) ?? null;
}
