import { useState } from "react";
import { dayNumber, dayOfNumber, type PracticeDay } from "../../core/progress/practice-day.ts";
import type { DayOfPractice } from "./progress-view.ts";

const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"] as const;
const WEEKS = 6;

/** Minutes of each day, six weeks at a time, the latest last: a table that is the picture. */
export function CalendarPart({ days }: { readonly days: readonly DayOfPractice[] }) {
  const [back, setBack] = useState(0);
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return null;
  const byDay = new Map(days.map((one) => [one.day, one]));
  const lastMonday = mondayBefore(dayNumber(last.day)) - 7 * WEEKS * back;
  const mondays = Array.from({ length: WEEKS }, (_, week) => lastMonday - 7 * (WEEKS - 1 - week));
  const shownFrom = mondays[0] ?? lastMonday;
  const shown = days.filter(({ day }) => dayNumber(day) >= shownFrom && dayNumber(day) < lastMonday + 7);
  const total = shown.reduce((sum, { practisedMs }) => sum + practisedMs, 0);
  return (
    <>
      <p>
        {minutesInWords(total)} on {shown.length} {shown.length === 1 ? "day" : "days"} of these six weeks. A
        day begins at four in the morning; only the time of the takes counts.
      </p>
      <table className="calendar">
        <caption className="only-read-aloud">Minutes practised each day</caption>
        <thead>
          <tr>
            <th scope="col">Week of</th>
            {WEEKDAYS.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
            <th scope="col">Together</th>
          </tr>
        </thead>
        <tbody>
          {mondays.map((monday) => (
            <Week key={monday} monday={monday} byDay={byDay} />
          ))}
        </tbody>
      </table>
      <div className="row">
        <button type="button" disabled={dayNumber(first.day) >= shownFrom} onClick={() => setBack(back + 1)}>
          Earlier
        </button>
        <button type="button" disabled={back === 0} onClick={() => setBack(back - 1)}>
          Later
        </button>
      </div>
    </>
  );
}

interface WeekProps {
  readonly monday: number;
  readonly byDay: ReadonlyMap<PracticeDay, DayOfPractice>;
}

function Week({ monday, byDay }: WeekProps) {
  const days = WEEKDAYS.map((_, place) => dayOfNumber(monday + place));
  const total = days.reduce((sum, day) => sum + (byDay.get(day)?.practisedMs ?? 0), 0);
  return (
    <tr>
      <th scope="row">{dayOfNumber(monday)}</th>
      {days.map((day) => {
        const found = byDay.get(day);
        return (
          <td key={day} data-depth={found === undefined ? 0 : depthOf(found.practisedMs)}>
            {found === undefined ? <span className="soft">-</span> : minutesInWords(found.practisedMs)}
          </td>
        );
      })}
      <td>{minutesInWords(total)}</td>
    </tr>
  );
}

/** 1970-01-05 was a Monday. */
const mondayBefore = (day: number) => day - ((((day - 4) % 7) + 7) % 7);

/** How deep the colour of a day is: to ten minutes, to half an hour, beyond. */
const depthOf = (practisedMs: number) => (practisedMs < 600_000 ? 1 : practisedMs < 1_800_000 ? 2 : 3);

/** "12 min"; what is less than one is said so. */
export function minutesInWords(practisedMs: number): string {
  if (practisedMs === 0) return "0 min";
  return practisedMs < 60_000 ? "< 1 min" : `${Math.round(practisedMs / 60_000)} min`;
}
