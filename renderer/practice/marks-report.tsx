import type { DrillSpec } from "../../core/exercise/drill-spec.ts";
import type { Exercise, ExpectedNote } from "../../core/exercise/exercise.ts";
import { spellingOf } from "../../core/pitch/modes.ts";
import { noteName } from "../../core/pitch/note-names.ts";
import type { Advice, Attempt, Ornament } from "../../core/score/attempt.ts";
import { slipInWords } from "../../core/score/slip-words.ts";
import { markInWords, shapeInWords } from "../ui/signs.tsx";
import { useWriting, type Writing } from "../ui/writing.ts";

interface MarksReportProps {
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  /** Null where there is no take to hear. */
  readonly onHearFrom: ((seconds: number) => void) | null;
  readonly onDrill: (drill: DrillSpec) => void;
}

/** How far before a note its replay begins, so that one hears the way into it. */
const LEAD_SECONDS = 0.15;

/** Every note in a table: the same facts as the signs, for reading and copying. */
export function MarksReport({ exercise, attempt, onHearFrom, onDrill }: MarksReportProps) {
  const spelling = spellingOf(exercise.home, exercise.mode);
  const writing = useWriting();
  return (
    <section className="report" aria-label="Marks">
      {attempt.advice.length > 0 && <WhatCost advice={attempt.advice} onDrill={onDrill} />}
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
                  {askedName(exercise.notes[mark.index], writing)}{" "}
                  <span className="soft">{writing.tab(mark.tab)}</span>
                </td>
                <td>
                  {writing.say(markInWords(mark, spelling))}
                  {shapeInWords(mark).map((words) => (
                    <div key={words} className="soft">
                      {writing.say(words)}
                    </div>
                  ))}
                </td>
                <td>{signed(mark.cents)}</td>
                <td>{signed(mark.ms)}</td>
                <td>
                  {mark.onSeconds !== null && onHearFrom !== null && (
                    <HearButton number={mark.index + 1} at={mark.onSeconds} onHearFrom={onHearFrom} />
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        <Besides attempt={attempt} spelling={spelling} />
      </details>
    </section>
  );
}

/** The note, of a chord its name. */
function askedName(note: ExpectedNote | undefined, writing: Writing): string {
  if (note === undefined) return "";
  return note.chord === undefined ? writing.note(note.noteName) : writing.chord(note.chord.name);
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

interface WhatCostProps {
  readonly advice: readonly Advice[];
  readonly onDrill: (drill: DrillSpec) => void;
}

/** What cost most, and the way to the drill for it. */
function WhatCost({ advice, onDrill }: WhatCostProps) {
  const { say } = useWriting();
  return (
    <>
      <h2>What cost most</h2>
      <ul className="advice">
        {advice.map(({ cause, words, drill, drillWords }, place) => (
          <li key={cause}>
            <span>{say(words)}</span>
            {drill !== null && !advice.slice(0, place).some((one) => one.drillWords === drillWords) && (
              <button type="button" onClick={() => onDrill(drill)}>
                Work on it: {say(drillWords ?? "")}
              </button>
            )}
          </li>
        ))}
      </ul>
    </>
  );
}

/** What was heard besides the notes asked for, and what had to be begun again. */
function Besides({ attempt, spelling }: { readonly attempt: Attempt; readonly spelling: readonly string[] }) {
  const { extras, ornaments, abandoned } = attempt;
  const { say } = useWriting();
  if (extras.length + ornaments.length + abandoned.length === 0) return null;
  return (
    <ul>
      {extras.map((extra) => (
        <li key={`extra ${extra.onSeconds}`}>
          {extra.afterIndex < 0 ? "Before the first note" : `After note ${extra.afterIndex + 1}`}: a note too
          many, {say(`${noteName(extra.heardMidi, spelling)}${inBrackets(extra.heardAs)}`)}
          {extra.diagnosis === null ? "" : `; ${slipInWords(extra.diagnosis)}`}
        </li>
      ))}
      {ornaments.map((ornament) => (
        <li key={`ornament ${ornament.onSeconds}`}>{say(ornamentInWords(ornament, spelling))}</li>
      ))}
      {abandoned.map((one) => (
        <li key={`again ${one.onSeconds}`}>
          {one.fromIndex === one.toIndex
            ? `Note ${one.fromIndex + 1}`
            : `Notes ${one.fromIndex + 1} to ${one.toIndex + 1}`}{" "}
          begun and broken off; the other try is marked
        </li>
      ))}
    </ul>
  );
}

function ornamentInWords(
  { index, place, heardMidi, heardAs }: Ornament,
  spelling: readonly string[],
): string {
  const where = index < 0 ? "Between the notes" : `${place === "before" ? "Before" : "In"} note ${index + 1}`;
  return `${where}: an ornament${heardMidi === null ? "" : `, ${noteName(heardMidi, spelling)}${inBrackets(heardAs)}`}`;
}

const inBrackets = (reeds: readonly string[]) => (reeds.length === 0 ? "" : ` (${reeds.join(" or ")})`);

function signed(value: number | null): string {
  if (value === null) return "–";
  const rounded = Math.round(value);
  return rounded > 0 ? `+${rounded}` : String(rounded === 0 ? 0 : rounded);
}
