import { useState } from "react";
import type { DayTotal } from "../../core/progress/counts/roll-ups.ts";
import { dayNumber, dayOfNumber, type PracticeDay } from "../../core/progress/practice-day.ts";
import { longDay } from "../ui/day-words.ts";
import { Figure } from "./figure.tsx";
import { minutesInWords } from "./minutes.ts";
import { daysInWords } from "./pictures/day-words.ts";
import { minutesDrawing, WEEKDAYS } from "./pictures/minutes-drawing.ts";
import type { MinutesAnswer, Read } from "./progress-view.ts";
import { Reading } from "./reading.tsx";

const WEEKS = 6;

interface CalendarPartProps {
  readonly read: Read<MinutesAnswer>;
  readonly onStop: () => void;
  readonly onAgain: () => void;
}

/** How much was practised, and when. */
export function CalendarPart({ read, onStop, onAgain }: CalendarPartProps) {
  return (
    <main className="progress">
      <h1>Minutes of each day</h1>
      <Reading read={read} onStop={onStop} onAgain={onAgain}>
        {({ days }) => <Calendar days={days} />}
      </Reading>
    </main>
  );
}

/** Six weeks at a time, the latest last. */
function Calendar({ days }: { readonly days: readonly DayTotal[] }) {
  const [back, setBack] = useState(0);
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined)
    return <p>Nothing here yet. Every day with a take stands here with its minutes.</p>;
  const lastMonday = mondayBefore(dayNumber(last.day)) - 7 * WEEKS * back;
  const mondays = Array.from({ length: WEEKS }, (_, week) =>
    dayOfNumber(lastMonday - 7 * (WEEKS - 1 - week)),
  );
  const [shownFrom, shownTo] = [lastMonday - 7 * (WEEKS - 1), lastMonday + 6];
  const shown = days.filter(({ day }) => dayNumber(day) >= shownFrom && dayNumber(day) <= shownTo);
  const range = daysInWords(dayOfNumber(shownFrom), dayOfNumber(shownTo));
  const total = shown.reduce((sum, { practisedMs }) => sum + practisedMs, 0);
  const words = `${minutesInWords(total)} on ${shown.length} ${shown.length === 1 ? "day" : "days"}, ${range}.`;
  const practisedMs = new Map(shown.map((one) => [one.day, one.practisedMs]));
  const picture = { title: "Minutes of each day", description: words, mondays, practisedMs };
  return (
    <>
      <p>{words} A day begins at four in the morning; only the time of the takes counts.</p>
      <Figure
        draw={(room) => minutesDrawing(picture, room)}
        words={[words]}
        days={`${dayOfNumber(shownFrom)} to ${dayOfNumber(shownTo)}`}
        table={<MinutesTable mondays={mondays} practisedMs={practisedMs} />}
      />
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

interface MinutesTableProps {
  readonly mondays: readonly PracticeDay[];
  readonly practisedMs: ReadonlyMap<PracticeDay, number>;
}

function MinutesTable({ mondays, practisedMs }: MinutesTableProps) {
  return (
    <div className="frame">
      <table>
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
          {mondays.map((monday) => {
            const days = WEEKDAYS.map((_, place) => dayOfNumber(dayNumber(monday) + place));
            const of = (day: PracticeDay) => practisedMs.get(day);
            return (
              <tr key={monday}>
                <th scope="row">{longDay(monday)}</th>
                {days.map((day) => {
                  const ms = of(day);
                  return <td key={day}>{ms === undefined ? "-" : minutesInWords(ms)}</td>;
                })}
                <td>{minutesInWords(days.reduce((sum, day) => sum + (of(day) ?? 0), 0))}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** 1970-01-05 was a Monday. */
const mondayBefore = (day: number) => day - ((((day - 4) % 7) + 7) % 7);
