import type { Layout } from "../../../core/instrument/layout.ts";
import { EVERYTHING, type ReedAction, reedActions } from "../../../core/instrument/reed-actions.ts";
import { tab } from "../../../core/instrument/tab.ts";
import { box, type Drawing, type Ink, line, type Room, type Shape, TEXT_SIZE, text } from "./drawing.ts";
import { type LegendEntry, legend } from "./legend.ts";
import { number } from "./values.ts";

/** What is known of one reed action. */
export type ReedReading =
  | { readonly kind: "cents"; readonly cents: number; readonly spreadCents: number | null }
  | { readonly kind: "right"; readonly share: number; readonly notes: number };

/** The harp, hole by hole, with what is known of each reed action. */
export interface HarpPicture {
  readonly title: string;
  readonly description: string;
  readonly layout: Layout;
  readonly shows: ReedReading["kind"];
  /** By tab in signs; an action with too few notes is absent. */
  readonly readings: ReadonlyMap<string, ReedReading>;
}

/** Within 10 cents in tune, to 25 close, beyond off; common practice after Larrouy-Maestri 2018 (25 cents). */
const [IN_TUNE_CENTS, CLOSE_CENTS] = [10, 25];
/** Nine notes in ten right go to the next tempo; four in five is the lower end of what practice aims at. Common practice. */
const [MOST_RIGHT, SOME_RIGHT] = [0.9, 0.8];

const CELL_WIDTH = 78;
const DEPTHS = [0.22, 0.45] as const;

/** Blow above the holes, draw below, bends and overbends further out; coloured and labelled. */
export function harpDrawing(picture: HarpPicture, room: Room): Drawing {
  const { textScale, mirrored } = room;
  const holes = picture.layout.holes.length;
  const size = TEXT_SIZE * textScale;
  const cell = { width: CELL_WIDTH * textScale, height: 48 * textScale };
  const words = 80 * textScale;
  const rows = rowsOf(picture);
  const width = words + holes * cell.width;
  const signs = legend(legendOf(picture.shows), room.width, textScale);
  const xOf = (hole: number) => words + (mirrored ? holes - hole : hole - 1) * cell.width;
  const top = signs.height + 8;
  const body = top + rows.above.length * cell.height;
  const under = body + 40 * textScale;
  const rowShapes = (row: Row, y: number) => [
    text(row.words, { x: words - 12, y: y + cell.height / 2 + 0.35 * size }, size, {
      anchor: "end",
      ink: "soft",
    }),
    ...row.actions.flatMap((action) =>
      cellShapes(picture, action, { x: xOf(action.hole), y, ...cell }, textScale),
    ),
  ];
  return {
    width: Math.max(width, signs.width),
    height: under + rows.below.length * cell.height + 4,
    title: picture.title,
    description: picture.description,
    shapes: [
      ...signs.shapes,
      ...rows.above.flatMap((row, place) => rowShapes(row, top + place * cell.height)),
      ...bodyShapes({ holes, xOf, y: body, width: cell.width, height: 40 * textScale, size }),
      text("hole", { x: words - 12, y: body + 20 * textScale + 0.35 * size }, size, {
        anchor: "end",
        ink: "soft",
      }),
      ...rows.below.flatMap((row, place) => rowShapes(row, under + place * cell.height)),
    ],
  };
}

interface Row {
  readonly words: string;
  readonly actions: readonly ReedAction[];
}

/** Rows from the outside in above, from the inside out below; overbends only for who plays some. */
function rowsOf(picture: HarpPicture): { readonly above: readonly Row[]; readonly below: readonly Row[] } {
  const all = reedActions(picture.layout, EVERYTHING).map(({ action }) => action);
  const plays = (action: ReedAction) => picture.readings.has(tab(action));
  const actions = all.filter((action) => depthOf(action) !== OVER || all.filter(isOver).some(plays));
  const rowsFor = (breath: ReedAction["breath"]): readonly Row[] => {
    const ofBreath = actions.filter((action) => action.breath === breath);
    const depths = [...new Set(ofBreath.map(depthOf))].sort((one, other) => one - other);
    return depths.map((depth) => ({
      words: depth === 0 ? breath : depth === OVER ? "over" : `bent ${depth}`,
      actions: ofBreath.filter((action) => depthOf(action) === depth),
    }));
  };
  return { above: [...rowsFor("blow")].reverse(), below: rowsFor("draw") };
}

/** Overblows and overdraws lie outside all bends. */
const OVER = 100;
const isOver = (action: ReedAction) => depthOf(action) === OVER;
const depthOf = ({ technique, bentSemitones }: ReedAction): number =>
  technique === "overblow" || technique === "overdraw" ? OVER : bentSemitones;

interface Cell {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function cellShapes(
  { readings }: HarpPicture,
  action: ReedAction,
  cell: Cell,
  scale: number,
): readonly Shape[] {
  const { x, y, width, height } = cell;
  const size = TEXT_SIZE * scale;
  const reading = readings.get(tab(action));
  const inner = { x: x + 2, y: y + 2, width: width - 4, height: height - 4 };
  const middle = x + width / 2;
  if (reading === undefined)
    return [
      box(inner, { fill: "rule", depth: 0.14 }),
      text("-", { x: middle, y: y + height / 2 + 0.35 * size }, size, { anchor: "middle", ink: "soft" }),
    ];
  const { ink, depth, sign } = lookOf(reading);
  const [large, small] = labelsOf(reading);
  return [
    box(inner, { fill: ink, depth, edge: depth === DEPTHS[1] ? ink : "rule", edgeWidth: 1 }),
    ...signShapes(sign, { x: x + 12 * scale, y: y + 15 * scale }, scale),
    text(large, { x: middle + (sign === "none" ? 0 : 6 * scale), y: y + 20 * scale }, size, {
      anchor: "middle",
      bold: true,
    }),
    text(small, { x: middle, y: y + 39 * scale }, size, { anchor: "middle" }),
  ];
}

interface Look {
  readonly ink: Ink;
  readonly depth: number;
  /** A wedge upwards for sharp, downwards for flat, a cross where much goes wrong. */
  readonly sign: "none" | "up" | "down" | "cross";
}

const FINE: Look = { ink: "nothing", depth: 0, sign: "none" };

function lookOf(reading: ReedReading): Look {
  if (reading.kind === "cents") {
    // As it is labelled: what reads "10" is not coloured as more than ten.
    const size = Math.round(Math.abs(reading.cents));
    if (size <= IN_TUNE_CENTS) return FINE;
    const sharp = reading.cents > 0;
    const depth = size <= CLOSE_CENTS ? DEPTHS[0] : DEPTHS[1];
    return { ink: sharp ? "look" : "now", depth, sign: sharp ? "up" : "down" };
  }
  const share = Math.round(100 * reading.share) / 100;
  if (share >= MOST_RIGHT) return FINE;
  return share >= SOME_RIGHT
    ? { ink: "look", depth: DEPTHS[0], sign: "none" }
    : { ink: "look", depth: DEPTHS[1], sign: "cross" };
}

function labelsOf(reading: ReedReading): readonly [string, string] {
  if (reading.kind === "right") return [`${Math.round(100 * reading.share)} %`, `of ${reading.notes}`];
  const spread = reading.spreadCents === null ? "" : `± ${number(reading.spreadCents)}`;
  return [number(reading.cents, true), spread];
}

function signShapes(sign: Look["sign"], { x, y }: { x: number; y: number }, scale: number): readonly Shape[] {
  const r = 5 * scale;
  switch (sign) {
    case "none":
      return [];
    case "cross":
      return [
        line({ x: x - r, y: y - r }, { x: x + r, y: y + r }, "ink", 2),
        line({ x: x - r, y: y + r }, { x: x + r, y: y - r }, "ink", 2),
      ];
    case "up":
    case "down": {
      const tip = sign === "up" ? y - r : y + r;
      const base = sign === "up" ? y + r : y - r;
      const corners = [
        { x: x - r, y: base },
        { x: x + r, y: base },
        { x, y: tip },
      ];
      return [{ kind: "area", corners, fill: "ink" }];
    }
  }
}

interface Body {
  readonly holes: number;
  readonly xOf: (hole: number) => number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly size: number;
}

const bodyShapes = ({ holes, xOf, y, width, height, size }: Body): readonly Shape[] =>
  Array.from({ length: holes }, (_, place) => place + 1).flatMap((hole) => [
    box(
      { x: xOf(hole), y: y + 2, width, height: height - 4 },
      { fill: "nothing", edge: "ink", edgeWidth: 2 },
    ),
    text(String(hole), { x: xOf(hole) + width / 2, y: y + height / 2 + 0.35 * size }, size, {
      anchor: "middle",
      bold: true,
    }),
  ]);

function legendOf(shows: ReedReading["kind"]): readonly LegendEntry[] {
  const swatch =
    (look: Look, edge: Ink = "rule"): LegendEntry["sign"] =>
    ({ x, y }) => [
      box({ x: x - 12, y: y - 9, width: 24, height: 18 }, { fill: look.ink, depth: look.depth, edge }),
      ...signShapes(look.sign, { x, y }, 1),
    ];
  const unknown: LegendEntry = {
    words: "- too few notes to say",
    sign: swatch({ ink: "rule", depth: 0.14, sign: "none" }),
  };
  if (shows === "right")
    return [
      { words: "90 % right or more", sign: swatch(FINE) },
      { words: "80 to 90 %", sign: swatch({ ink: "look", depth: DEPTHS[0], sign: "none" }) },
      { words: "less", sign: swatch({ ink: "look", depth: DEPTHS[1], sign: "cross" }, "look") },
      unknown,
    ];
  return [
    { words: "within 10 cents", sign: swatch(FINE) },
    { words: "sharp, to 25 cents", sign: swatch({ ink: "look", depth: DEPTHS[0], sign: "up" }) },
    { words: "sharper", sign: swatch({ ink: "look", depth: DEPTHS[1], sign: "up" }, "look") },
    { words: "flat, to 25 cents", sign: swatch({ ink: "now", depth: DEPTHS[0], sign: "down" }) },
    { words: "flatter", sign: swatch({ ink: "now", depth: DEPTHS[1], sign: "down" }, "now") },
    unknown,
  ];
}
