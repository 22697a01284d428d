import { type ReactNode, useCallback, useState } from "react";
import type { Exercise, ExpectedNote } from "../../core/exercise/exercise.ts";
import type { StaffLine } from "../../core/exercise/exercise-abc.ts";
import { evenSpans, type NoteSpan, Staff } from "./staff.tsx";
import { TabRow } from "./tab-row.tsx";
import { useWriting, type Writing } from "./writing.ts";

interface SheetLineProps {
  readonly exercise: Exercise;
  readonly line: StaffLine;
  readonly width: number;
  readonly now: number | null;
  /** Notes of the bar to be read, written large; null for none. */
  readonly large?: { readonly from: number; readonly to: number } | null;
  /** What stands under the tab, given where each note is. */
  readonly below?: (notes: readonly ExpectedNote[], spans: readonly NoteSpan[]) => ReactNode;
}

/** One line of music with the tab under it, and under that whatever the screen adds. */
export function SheetLine({ exercise, line, width, now, large = null, below }: SheetLineProps) {
  const notes = exercise.notes.slice(line.from, line.to);
  const [spans, setSpans] = useState<readonly NoteSpan[]>(() => evenSpans(width, notes.length));
  const keepSpans = useCallback((found: readonly NoteSpan[]) => setSpans(found), []);
  const writing = useWriting();
  const label = `Notes ${line.from + 1} to ${line.to}: ${notes.map((note) => `${askedName(note, writing)} ${writing.asked(note)}`).join(", ")}`;
  return (
    <div className="sheet-line">
      <Staff line={line} width={width} label={label} now={now} onSpans={keepSpans} />
      <TabRow notes={notes} spans={spans} width={width} now={now} large={large} />
      {below?.(notes, spans)}
    </div>
  );
}

/** The note, of a chord its name. */
const askedName = ({ noteName, chord }: ExpectedNote, writing: Writing): string =>
  chord === undefined ? writing.note(noteName) : writing.chord(chord.name);
