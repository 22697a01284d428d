import { box, type Drawing, line, type Room, type Shape, TEXT_SIZE, text, widthOf } from "./drawing.ts";
import { type LegendEntry, legend } from "./legend.ts";

/** What became of the second note of a pair. */
export interface PairReading {
  /** Tab of the two as the player writes it. */
  readonly from: string;
  readonly to: string;
  readonly notes: number;
  /** Wrong, missed, out of tune or off the beat; null with too few notes to say. */
  readonly troubledShare: number | null;
}

/** From one reed action to the next, as a table of fields. */
export interface PairsPicture {
  readonly title: string;
  readonly description: string;
  /** Reed actions in the order they are drawn in. */
  readonly from: readonly string[];
  readonly to: readonly string[];
  readonly pairs: readonly PairReading[];
}

const CELL = { width: 60, height: 46 };
/** Up to one note in ten in trouble is what one lives with, up to one in four worth a look. Common practice. */
const [FEW, SOME] = [0.1, 0.25];
/** For whom more than that is usual, what lies beyond the usual, and half as much again. */
const WELL_BEYOND = 1.5;
const DEPTHS = [0.22, 0.45] as const;

/** Shares up to which a pair is no worse than others, and up to which it is not much worse. */
interface Bounds {
  readonly few: number;
  readonly some: number;
}

export function pairsDrawing({ title, description, from, to, pairs }: PairsPicture, room: Room): Drawing {
  const scale = room.textScale;
  const size = TEXT_SIZE * scale;
  const widest = Math.max(0, ...pairs.map(({ notes }) => widthOf(countWords(notes), size)));
  const cell = { width: Math.max(CELL.width * scale, widest + 8), height: CELL.height * scale };
  const bounds = boundsOf(pairs);
  const left = Math.max(...from.map((one) => widthOf(one, size)), widthOf("from", size)) + 24;
  const width = left + to.length * cell.width + 2;
  const signs = legend(legendOf(bounds), room.width, scale);
  const top = signs.height + 3.4 * size;
  const rowOf = (tab: string) => top + from.indexOf(tab) * cell.height;
  const columnOf = (tab: string) => left + to.indexOf(tab) * cell.width;
  const head = [
    text("from", { x: 0, y: top - 0.7 * size }, size, { ink: "soft" }),
    text("to", { x: left, y: top - 2.1 * size }, size, { ink: "soft" }),
    ...from.map((tab) => text(tab, { x: 0, y: rowOf(tab) + cell.height / 2 + 0.35 * size }, size)),
    ...to.map((tab) =>
      text(tab, { x: columnOf(tab) + cell.width / 2, y: top - 0.7 * size }, size, { anchor: "middle" }),
    ),
  ];
  return {
    width: Math.max(width, signs.width),
    height: top + from.length * cell.height + 4,
    title,
    description,
    shapes: [
      ...signs.shapes,
      ...head,
      ...rules(from.length, to.length, { left, top, ...cell }),
      ...pairs.flatMap((pair) =>
        cellShapes(pair, bounds, { x: columnOf(pair.to), y: rowOf(pair.from), ...cell }, size),
      ),
    ],
  };
}

/** A thin line under each row and beside each column, to find one's way by. */
function rules(
  rows: number,
  columns: number,
  { left, top, width, height }: { left: number; top: number; width: number; height: number },
): readonly Shape[] {
  const [right, bottom] = [left + columns * width, top + rows * height];
  const across = Array.from({ length: rows + 1 }, (_, place) => top + place * height);
  const down = Array.from({ length: columns + 1 }, (_, place) => left + place * width);
  return [
    ...across.map((y) => line({ x: left, y }, { x: right, y }, "band")),
    ...down.map((x) => line({ x, y: top }, { x, y: bottom }, "band")),
  ];
}

function cellShapes(
  { troubledShare, notes }: PairReading,
  { few, some }: Bounds,
  { x, y, width, height }: { x: number; y: number; width: number; height: number },
  size: number,
): readonly Shape[] {
  const inner = { x: x + 1, y: y + 1, width: width - 2, height: height - 2 };
  const middle = x + width / 2;
  if (troubledShare === null)
    return [
      box(inner, { fill: "rule", depth: 0.14 }),
      text("-", { x: middle, y: y + height / 2 + 0.35 * size }, size, { anchor: "middle", ink: "soft" }),
    ];
  // As it is labelled.
  const share = Math.round(100 * troubledShare) / 100;
  const depth = share <= few ? 0 : share <= some ? DEPTHS[0] : DEPTHS[1];
  return [
    box(inner, {
      fill: depth === 0 ? "nothing" : "look",
      depth,
      edge: depth === DEPTHS[1] ? "look" : "rule",
      edgeWidth: depth === DEPTHS[1] ? 2 : 1,
    }),
    text(`${Math.round(100 * troubledShare)} %`, { x: middle, y: y + 0.44 * height }, size, {
      anchor: "middle",
      bold: depth === DEPTHS[1],
    }),
    text(countWords(notes), { x: middle, y: y + 0.85 * height }, size, { anchor: "middle" }),
  ];
}

const swatch =
  (depth: number): LegendEntry["sign"] =>
  ({ x, y }) => [
    box(
      { x: x - 12, y: y - 9, width: 24, height: 18 },
      {
        fill: depth === 0 ? "nothing" : "look",
        depth,
        edge: depth === DEPTHS[1] ? "look" : "rule",
        edgeWidth: depth === DEPTHS[1] ? 2 : 1,
      },
    ),
  ];

const countWords = (notes: number) => `of ${notes}`;

function boundsOf(pairs: readonly PairReading[]): Bounds {
  const known = pairs.filter(({ troubledShare }) => troubledShare !== null);
  const notes = known.reduce((sum, pair) => sum + pair.notes, 0);
  const troubled = known.reduce((sum, pair) => sum + pair.notes * (pair.troubledShare ?? 0), 0);
  const usual = Math.round((100 * troubled) / Math.max(1, notes)) / 100;
  return { few: Math.max(FEW, usual), some: Math.max(SOME, Math.round(100 * WELL_BEYOND * usual) / 100) };
}

function legendOf({ few, some }: Bounds): readonly LegendEntry[] {
  const percent = (share: number) => Math.round(100 * share);
  const usual = few > FEW ? ", the usual" : "";
  return [
    { words: `in trouble up to ${percent(few)} %${usual}`, sign: swatch(0) },
    { words: `to ${percent(some)} %`, sign: swatch(DEPTHS[0]) },
    { words: "more", sign: swatch(DEPTHS[1]) },
    {
      words: "- too few notes to say",
      sign: ({ x, y }) => [
        box({ x: x - 12, y: y - 9, width: 24, height: 18 }, { fill: "rule", depth: 0.14, edge: "rule" }),
      ],
    },
  ];
}
