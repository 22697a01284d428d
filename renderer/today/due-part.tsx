import { useId, useState } from "react";
import { dayInWords } from "../../core/progress/plan/plan-words.ts";
import { daysAfter, type PracticeDay, readPracticeDay } from "../../core/progress/practice-day.ts";
import type { DueItem } from "../../core/progress/revisit/revisit-due.ts";
import { useWriting } from "../ui/writing.ts";

/** What a player does about the date of an item. */
export type DueChange =
  | { readonly kind: "suspended" }
  | { readonly kind: "taken back" }
  | { readonly kind: "moved"; readonly toDay: PracticeDay };

interface DuePartProps {
  readonly day: PracticeDay;
  /** As `dueItems` has them. */
  readonly items: readonly DueItem[];
  readonly onChange: (item: string, change: DueChange) => void;
}

/** So many rows are shown at first, and added on request. */
const SOME = 20;

/** When to look in again on everything that was practised, why, and what can be done about it. */
export function DuePart({ day, items, onChange }: DuePartProps) {
  const [shown, setShown] = useState(SOME);
  const due = items.filter(({ state }) => state === "due").length;
  const more = items.length - shown;
  return (
    <details className="due">
      <summary>
        When to revisit: {due === 0 ? "nothing is due" : `${due} due`}, {items.length - due} not
      </summary>
      <p className="soft">
        The day follows from how your first try of each day went. It is a guess at when to look in again: the
        rule behind it was found for remembering facts, and none is known for playing.
      </p>
      <ul className="due-rows">
        {items.slice(0, shown).map((one) => (
          <DueRow
            key={one.row.item}
            one={one}
            day={day}
            onChange={(change) => onChange(one.row.item, change)}
          />
        ))}
      </ul>
      {more > 0 && (
        <button type="button" onClick={() => setShown(shown + SOME)}>
          {more} more
        </button>
      )}
    </details>
  );
}

interface DueRowProps {
  readonly one: DueItem;
  readonly day: PracticeDay;
  readonly onChange: (change: DueChange) => void;
}

function DueRow({ one, day, onChange }: DueRowProps) {
  const { say } = useWriting();
  const { row, state, why } = one;
  const title = say(row.what.title);
  const tomorrow = daysAfter(day, 1);
  const move = (toDay: PracticeDay) => onChange({ kind: "moved", toDay });
  return (
    <li>
      <div>
        <span className="plan-title">{title}</span>{" "}
        <span className="soft">
          {say(row.what.harp)}; {why}
        </span>
        <p>{stateInWords(one, day)}</p>
      </div>
      {state === "suspended" ? (
        <button type="button" onClick={() => onChange({ kind: "taken back" })}>
          Ask for it again<span className="only-read-aloud">: {title}</span>
        </button>
      ) : (
        <div className="row">
          <button type="button" onClick={() => move(tomorrow)}>
            Tomorrow<span className="only-read-aloud">: {title}</span>
          </button>
          <button type="button" onClick={() => move(daysAfter(day, 7))}>
            In a week<span className="only-read-aloud">: {title}</span>
          </button>
          <DayChoice title={title} value={one.dueDay} least={day} onChange={move} />
          {one.moved && (
            <button type="button" onClick={() => onChange({ kind: "taken back" })}>
              As it was<span className="only-read-aloud">: {title}</span>
            </button>
          )}
          <button type="button" onClick={() => onChange({ kind: "suspended" })}>
            Not any more<span className="only-read-aloud">: {title}</span>
          </button>
        </div>
      )}
    </li>
  );
}

/** "Due since 5 November", "Due on 3 December, moved there by you", "Not asked for". */
function stateInWords({ state, dueDay, overdueDays, moved }: DueItem, day: PracticeDay): string {
  if (state === "suspended") return "Not asked for, as you want it.";
  const words = dayInWords(dueDay, day);
  const when = state === "later" ? `on ${words}` : overdueDays === 0 ? "today" : `since ${words}`;
  return `Due ${when}${moved ? ", moved there by you" : ""}.`;
}

interface DayChoiceProps {
  readonly title: string;
  readonly value: PracticeDay;
  readonly least: PracticeDay;
  readonly onChange: (day: PracticeDay) => void;
}

/** A day of the calendar; half-typed ones are not taken over. */
function DayChoice({ title, value, least, onChange }: DayChoiceProps) {
  const id = useId();
  return (
    <label htmlFor={id}>
      On<span className="only-read-aloud"> another day: {title}</span>{" "}
      <input
        id={id}
        type="date"
        min={least}
        value={value < least ? "" : value}
        onChange={(event) => {
          const typed = readPracticeDay(event.target.value);
          if (typed !== null && typed >= least) onChange(typed);
        }}
      />
    </label>
  );
}
