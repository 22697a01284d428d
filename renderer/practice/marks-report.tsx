import type { Exercise } from "../../core/exercise/exercise.ts";
import { noteName } from "../../core/pitch/note-names.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { markInWords } from "../ui/signs.tsx";

interface MarksReportProps {
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  readonly onHearFrom: (seconds: number) => void;
}

/** How far before a note its replay begins, so that one hears the way into it. */
const LEAD_SECONDS = 0.15;

/** Every note in a table: the same facts as the signs, for reading and copying. */
export function MarksReport({ exercise, attempt, onHearFrom }: MarksReportProps) {
  return (
    <section className="report" aria-label="Marks">
      <details>
        <summary>Every note</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">Note</th>
              <th scope="col">Asked</th>
              <th scope="col">Mark</th>
              <th scope="col">Cents</th>
              <th scope="col">ms</th>
              <th scope="col">Hear</th>
            </tr>
          </thead>
          <tbody>
            {attempt.marks.map((mark) => (
              <tr key={mark.index}>
                <td>{mark.index + 1}</td>
                <td>
                  {exercise.notes[mark.index]?.noteName} <span className="soft">{mark.tab}</span>
                </td>
                <td>{markInWords(mark)}</td>
                <td>{signed(mark.cents)}</td>
                <td>{signed(mark.ms)}</td>
                <td>
                  {mark.onSeconds !== null && (
                    <HearButton number={mark.index + 1} at={mark.onSeconds} onHearFrom={onHearFrom} />
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {attempt.extras.length > 0 && <Extras attempt={attempt} />}
      </details>
    </section>
  );
}

interface HearButtonProps {
  readonly number: number;
  readonly at: number;
  readonly onHearFrom: (seconds: number) => void;
}

function HearButton({ number, at, onHearFrom }: HearButtonProps) {
  return (
    <button type="button" onClick={() => onHearFrom(Math.max(0, at - LEAD_SECONDS))}>
      from here<span className="only-read-aloud">, note {number}</span>
    </button>
  );
}

function Extras({ attempt }: { readonly attempt: Attempt }) {
  return (
    <ul>
      {attempt.extras.map((extra) => (
        <li key={extra.onSeconds}>
          {extra.afterIndex < 0 ? "Before the first note" : `After note ${extra.afterIndex + 1}`}: a note too
          many
          {extra.heardMidi === null ? "" : `, ${noteName(extra.heardMidi)}`}
          {extra.heardAs.length === 0 ? "" : ` (${extra.heardAs.join(" or ")})`}
        </li>
      ))}
    </ul>
  );
}

function signed(value: number | null): string {
  if (value === null) return "–";
  const rounded = Math.round(value);
  return rounded > 0 ? `+${rounded}` : String(rounded === 0 ? 0 : rounded);
}
