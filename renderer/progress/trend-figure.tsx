import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { LineKind, MeasureTrend, TrendLine } from "../../core/progress/trends/trend.ts";
import { longDay } from "../ui/day-words.ts";
import { useWriting } from "../ui/writing.ts";
import { Figure } from "./figure.tsx";
import { type TrendPicture, trendDrawing } from "./pictures/trend-drawing.ts";
import { number, UNIT_WORDS, valueInWords } from "./pictures/values.ts";

interface TrendFigureProps {
  readonly trend: MeasureTrend;
  /** What is compared. */
  readonly of: string;
  readonly days: string;
}

/** One measure as a picture, with its sentences and its numbers. */
export function TrendFigure({ trend, of, days }: TrendFigureProps) {
  const { say } = useWriting();
  const lines = linesOf(trend);
  const picture: TrendPicture = {
    title: `${measureName(trend)}: ${say(of)}`,
    description: lines.map(([, { words }]) => say(words)).join(" "),
    unit: trend.unit,
    signed: isSigned(trend),
    rows: rowsShown(trend).map(([kind, { points }]) => ({ kind, points })),
    band: trend.day.band,
  };
  return (
    <Figure
      draw={(room) => trendDrawing(picture, room)}
      words={[...lines.map(([, { words }]) => say(words)), say(trend.compared)]}
      days={days}
      table={<TrendTable trend={trend} />}
    />
  );
}

/** "Intonation spread" */
export const measureName = ({ measure }: Pick<MeasureTrend, "measure">): string =>
  `${measure.slice(0, 1).toUpperCase()}${measure.slice(1)}`;

/** Early and late, sharp and flat lie on two sides of zero. */
const isSigned = ({ measure }: MeasureTrend) => measure === "intonation bias" || measure === "timing bias";

type Told = readonly (readonly [LineKind, TrendLine])[];

/** The lines there are: the whole day, the first attempts, the best. */
export function linesOf({ day, first, best }: MeasureTrend): Told {
  const all: readonly (readonly [LineKind, TrendLine | null])[] = [
    ["day", day],
    ["first", first],
    ["best", best],
  ];
  return all.filter((one): one is readonly [LineKind, TrendLine] => one[1] !== null);
}

/** First attempts and best ones; the days as a whole where they are not told apart. */
function rowsShown(trend: MeasureTrend): Told {
  const apart = linesOf(trend).filter(([kind]) => kind !== "day");
  return apart.length > 0 ? apart : [["day", trend.day]];
}

const HEADS: Readonly<Record<LineKind, string>> = {
  day: "Whole day",
  first: "First attempt",
  best: "Best",
};

function TrendTable({ trend }: { readonly trend: MeasureTrend }) {
  const lines = linesOf(trend);
  const days = [...new Set(lines.flatMap(([, { points }]) => points.map(({ day }) => day)))].sort();
  return (
    <div className="frame">
      <table>
        <caption className="only-read-aloud">
          {measureName(trend)}, {UNIT_WORDS[trend.unit]}, day by day
        </caption>
        <thead>
          <tr>
            <th scope="col">Day</th>
            {lines.map(([kind]) => (
              <th key={kind} scope="col">
                {HEADS[kind]} <span className="soft">({UNIT_WORDS[trend.unit]})</span>
              </th>
            ))}
            <th scope="col">Notes of the day</th>
          </tr>
        </thead>
        <tbody>
          {days.map((day) => (
            <tr key={day}>
              <th scope="row">{longDay(day)}</th>
              {lines.map(([kind, line]) => (
                <td key={kind}>{cell(line, day, trend)}</td>
              ))}
              <td>{trend.day.points.find((point) => point.day === day)?.notes ?? "-"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** "93 (88 to 97)", "6.4", "-" where it was not measured. */
function cell({ points }: TrendLine, day: PracticeDay, trend: MeasureTrend): string {
  const point = points.find((one) => one.day === day);
  if (point === undefined) return "-";
  if (trend.unit !== "share") return number(point.value, isSigned(trend));
  const percent = (value: number) => valueInWords(value, "share").replace(" %", "");
  const { value, low, high } = point;
  return low === null || high === null
    ? percent(value)
    : `${percent(value)} (${percent(low)} to ${percent(high)})`;
}
