import { dayNumber, dayOfNumber, type PracticeDay } from "../../../core/progress/practice-day.ts";
import type { LineKind, TrendBand, TrendPoint } from "../../../core/progress/trends/trend.ts";
import { shortDay } from "../../ui/day-words.ts";
import { between } from "./clip.ts";
import { dayTicks } from "./day-words.ts";
import {
  type At,
  box,
  type Drawing,
  line,
  type Room,
  type Shape,
  TEXT_SIZE,
  text,
  widthOf,
} from "./drawing.ts";
import { type LegendEntry, legend } from "./legend.ts";
import { type Scale, scaleFor } from "./scale.ts";
import { number, type Unit } from "./values.ts";

/** A measure day by day. */
export interface TrendPicture {
  readonly title: string;
  readonly description: string;
  readonly unit: Unit;
  /** Whether values lie on both sides of zero: then zero is drawn too. */
  readonly signed: boolean;
  /** Oldest first; at least one row has points. */
  readonly rows: readonly PointRow[];
  /** Line and band of the days that are judged, oldest first; empty where it is too early to say. */
  readonly band: readonly TrendBand[];
}

/** Points of one kind; of the whole day only where first and best are not told apart. */
export interface PointRow {
  readonly kind: LineKind;
  readonly points: readonly Pick<TrendPoint, "day" | "value">[];
}

/** The sessions as points, the line through them, and the band it may lie in. */
export function trendDrawing(picture: TrendPicture, room: Room): Drawing {
  const size = TEXT_SIZE * room.textScale;
  const signs = legend(legendOf(picture), room.width, room.textScale);
  const plot = plotOf(picture, room, signs.height + 1.5 * size);
  return {
    width: room.width,
    height: plot.bottom + 2 * size,
    title: picture.title,
    description: picture.description,
    shapes: [
      ...signs.shapes,
      ...bandOf(picture.band, plot),
      ...gridOf(picture, plot, size),
      ...lineOf(picture.band, plot),
      // First attempts are drawn last, over the others.
      ...[...picture.rows]
        .sort((one, other) => ORDER.indexOf(one.kind) - ORDER.indexOf(other.kind))
        .flatMap(({ kind, points }) =>
          points.map(({ day, value }) => SIGNS[kind]({ x: plot.xOf(day), y: plot.yOf(value) })),
        ),
    ],
  };
}

const ORDER: readonly LineKind[] = ["day", "best", "first"];

interface Plot {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly firstDay: PracticeDay;
  readonly lastDay: PracticeDay;
  readonly scale: Scale;
  readonly xOf: (day: PracticeDay) => number;
  readonly yOf: (value: number) => number;
}

const PLOT_HEIGHT = 260;

function plotOf(picture: TrendPicture, room: Room, top: number): Plot {
  const size = TEXT_SIZE * room.textScale;
  const scale = scaleOf(picture);
  const widest = Math.max(...scale.ticks.map((tick) => widthOf(tickInWords(tick, picture.unit), size)));
  const [left, right] = [widest + 12, room.width - 2 * size];
  const bottom = top + PLOT_HEIGHT;
  const days = picture.rows.flatMap(({ points }) => points.map(({ day }) => dayNumber(day)));
  const [first, last] = [Math.min(...days), Math.max(...days)];
  // A point at the very edge would be cut by the axis.
  const inset = 12;
  const aDay = (right - left - 2 * inset) / Math.max(1, last - first);
  return {
    left,
    right,
    top,
    bottom,
    firstDay: dayOfNumber(first),
    lastDay: dayOfNumber(last),
    scale,
    xOf: (day) => left + inset + (dayNumber(day) - first) * aDay,
    yOf: (value) => bottom - ((value - scale.low) / (scale.high - scale.low)) * (bottom - top),
  };
}

function scaleOf({ rows, band, signed, unit }: TrendPicture): Scale {
  const points = rows.flatMap((row) => row.points.map(({ value }) => value));
  const all = [...points, ...band.map(({ value }) => value), ...(signed ? [0] : [])];
  if (unit === "share") return scaleFor(all, { floor: 0, ceiling: 1 });
  return scaleFor(all, signed ? {} : { floor: 0 });
}

const tickInWords = (tick: number, unit: Unit) =>
  unit === "share" ? `${Math.round(100 * tick)}` : tick === 0 ? "0" : number(tick).replace(/\.0$/, "");

/** What is written above the axis. */
const AXIS: Readonly<Record<Unit, string>> = {
  share: "% of the notes",
  cents: "cents",
  ms: "milliseconds",
  bpm: "beats a minute",
};

function gridOf({ unit, signed }: TrendPicture, plot: Plot, size: number): readonly Shape[] {
  const { left, right, bottom, scale, yOf, xOf } = plot;
  const across = scale.ticks.flatMap((tick) => {
    const y = yOf(tick);
    const isZero = signed && tick === 0;
    return [
      line({ x: left, y }, { x: right, y }, isZero ? "ink" : "rule", isZero ? 2 : 1),
      text(tickInWords(tick, unit), { x: left - 8, y: y + 0.35 * size }, size, {
        anchor: "end",
        ink: "soft",
      }),
    ];
  });
  const most = Math.max(2, Math.floor((right - left) / (6 * size)));
  const under = dayTicks(plot.firstDay, plot.lastDay, most).flatMap((day) => [
    line({ x: xOf(day), y: bottom }, { x: xOf(day), y: bottom + 6 }, "rule"),
    text(shortDay(day), { x: xOf(day), y: bottom + 6 + 1.1 * size }, size, { anchor: "middle", ink: "soft" }),
  ]);
  return [text(AXIS[unit], { x: 0, y: plot.top - 0.8 * size }, size, { ink: "soft" }), ...across, ...under];
}

/** Where the line may lie; what lies beyond the scale is left out. */
function bandOf(band: readonly TrendBand[], { xOf, yOf, top, bottom }: Plot): readonly Shape[] {
  const upper = band.map(({ day, high }) => ({ x: xOf(day), y: yOf(high) }));
  const lower = band.map(({ day, low }) => ({ x: xOf(day), y: yOf(low) }));
  const corners = between([...upper, ...lower.reverse()], top, bottom);
  return corners.length < 3 ? [] : [{ kind: "area", corners, fill: "now", depth: BAND_DEPTH, edge: "now" }];
}

const BAND_DEPTH = 0.18;

/** From session to session: a rest of some days is no part of the slope, so on the calendar the line may turn there. */
function lineOf(band: readonly TrendBand[], { xOf, yOf }: Plot): readonly Shape[] {
  const points = band.map(({ day, value }): At => ({ x: xOf(day), y: yOf(value) }));
  return points.length < 2 ? [] : [{ kind: "run", points, ink: "ink", width: 3 }];
}

/** A filled dot. */
const firstSign = (at: At): Shape => ({
  kind: "dot",
  at,
  radius: 6,
  fill: "now",
  edge: "paper",
  edgeWidth: 1.5,
});

/** An open diamond. */
function bestSign({ x, y }: At): Shape {
  const corners = [
    { x, y: y - 8 },
    { x: x + 8, y },
    { x, y: y + 8 },
    { x: x - 8, y },
  ];
  return { kind: "area", corners, fill: "paper", edge: "look", edgeWidth: 2 };
}

/** A small open circle. */
const daySign = (at: At): Shape => ({ kind: "dot", at, radius: 5, fill: "paper", edge: "ink", edgeWidth: 2 });

const SIGNS: Readonly<Record<LineKind, (at: At) => Shape>> = {
  first: firstSign,
  best: bestSign,
  day: daySign,
};

const KIND_WORDS: Readonly<Record<LineKind, string>> = {
  first: "first attempt of the day",
  best: "best of the day",
  day: "the whole day",
};

function legendOf({ band, rows }: TrendPicture): readonly LegendEntry[] {
  const points = rows
    .filter((row) => row.points.length > 0)
    .map(({ kind }): LegendEntry => ({ words: KIND_WORDS[kind], sign: (at) => [SIGNS[kind](at)] }));
  if (band.length === 0) return points;
  return [
    ...points,
    {
      words: "where it goes, all attempts",
      sign: ({ x, y }) => [line({ x: x - 11, y }, { x: x + 11, y }, "ink", 3)],
    },
    {
      words: "where that line may lie",
      sign: ({ x, y }) => [
        box({ x: x - 11, y: y - 8, width: 22, height: 16 }, { fill: "now", depth: BAND_DEPTH, edge: "now" }),
      ],
    },
  ];
}
