import { dayNumber, dayOfNumber, type PracticeDay } from "../../../core/progress/practice-day.ts";
import { shortDay } from "../../ui/day-words.ts";
import { minutesInWords } from "../minutes.ts";
import { box, type Drawing, line, type Room, type Shape, TEXT_SIZE, text } from "./drawing.ts";

/** Minutes of each day, a week to a row. */
export interface MinutesPicture {
  readonly title: string;
  readonly description: string;
  /** The first day of each week shown, one a row, oldest first. */
  readonly mondays: readonly PracticeDay[];
  /** Milliseconds practised; a day without is absent. */
  readonly practisedMs: ReadonlyMap<PracticeDay, number>;
}

export const WEEKDAYS = [
  "Monday",
  "Tuesday",
  "Wednesday",
  "Thursday",
  "Friday",
  "Saturday",
  "Sunday",
] as const;

/** A bar may fill its field at so many minutes. */
const FULL_MINUTES = [10, 20, 30, 60, 120, 240, 480, 1440];
const CELL_HEIGHT = 44;

/** A field a day: its minutes, and a bar, all of one measure. */
export function minutesDrawing(
  { title, description, mondays, practisedMs }: MinutesPicture,
  room: Room,
): Drawing {
  const scale = room.textScale;
  const size = TEXT_SIZE * scale;
  const [left, right] = [60 * scale, 82 * scale];
  const width = Math.max(room.width, left + right + 7 * 66 * scale);
  const cell = { width: (width - left - right) / 7, height: CELL_HEIGHT * scale };
  const top = 1.6 * size;
  const xOf = (place: number) => left + place * cell.width;
  const yOf = (row: number) => top + row * cell.height;
  const bottom = yOf(mondays.length);
  const longest = Math.max(0, ...practisedMs.values());
  const fullMinutes = FULL_MINUTES.find((minutes) => minutes * 60_000 >= longest) ?? 1440;
  const week = (monday: PracticeDay, row: number): readonly Shape[] => {
    const days = WEEKDAYS.map((_, place) => practisedMs.get(dayOfNumber(dayNumber(monday) + place)) ?? null);
    const total = days.reduce<number>((sum, ms) => sum + (ms ?? 0), 0);
    const base = yOf(row) + cell.height / 2 + 0.35 * size;
    return [
      text(shortDay(monday), { x: 0, y: base }, size, { ink: "soft" }),
      ...days.flatMap((ms, place) =>
        dayShapes(ms, fullMinutes * 60_000, { x: xOf(place), y: yOf(row), ...cell }, size),
      ),
      text(minutesInWords(total), { x: width, y: base }, size, { anchor: "end" }),
    ];
  };
  return {
    width,
    height: bottom + 1.7 * size,
    title,
    description,
    shapes: [
      ...WEEKDAYS.map((name, place) =>
        text(name.slice(0, 3), { x: xOf(place) + 8, y: 1.1 * size }, size, { ink: "soft" }),
      ),
      text("week", { x: width, y: 1.1 * size }, size, { anchor: "end", ink: "soft" }),
      ...Array.from({ length: mondays.length + 1 }, (_, row) =>
        line({ x: 0, y: yOf(row) }, { x: width, y: yOf(row) }, "rule"),
      ),
      ...mondays.flatMap(week),
      text(`A full bar is ${fullMinutes} min.`, { x: left + 8, y: bottom + 1.4 * size }, size, {
        ink: "soft",
      }),
    ],
  };
}

function dayShapes(
  ms: number | null,
  fullMs: number,
  { x, y, width, height }: { x: number; y: number; width: number; height: number },
  size: number,
): readonly Shape[] {
  const at = { x: x + 8, y: y + 0.5 * height + 0.2 * size };
  if (ms === null) return [text("-", at, size, { ink: "soft" })];
  const long = Math.max(2, (width - 16) * (ms / fullMs));
  return [
    text(minutesInWords(ms), at, size),
    box({ x: x + 8, y: y + height - 10, width: width - 16, height: 5 }, { fill: "band" }),
    box({ x: x + 8, y: y + height - 10, width: long, height: 5 }, { fill: "now" }),
  ];
}
