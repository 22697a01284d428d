import type { ExpectedNote } from "../../core/exercise/exercise.ts";
import { useDisplay } from "./display.ts";
import type { NoteSpan } from "./staff.tsx";
import { useWriting } from "./writing.ts";

interface TabRowProps {
  readonly notes: readonly ExpectedNote[];
  readonly spans: readonly NoteSpan[];
  readonly width: number;
  /** Index of the note sounding now, or null. */
  readonly now: number | null;
  /** Notes from `from` up to but not including `to` are written large: the bar to be read. */
  readonly large: { readonly from: number; readonly to: number } | null;
}

/** Two rows of the large size. */
const TAB_HEIGHT = 84;

/** Hole and breath under each note: blow stands above the row's middle, draw below it, as on the harp. */
export function TabRow({ notes, spans, width, now, large }: TabRowProps) {
  const { textScale } = useDisplay();
  const writing = useWriting();
  const height = TAB_HEIGHT * textScale;
  const rows = rowsOf(notes, large);
  const narrow = rows.some(({ from, to }) => {
    const room = (spans[to]?.right ?? 0) - (spans[from]?.left ?? 0);
    const signs = notes[from] === undefined ? 0 : writing.asked(notes[from]).length;
    return room < WIDE_ENOUGH * Math.max(1, signs / MOST_SIGNS) * textScale;
  });
  return (
    <svg className="tab-row" width={width} height={height} aria-hidden="true">
      <line className="rule" x1={0} x2={width} y1={height / 2} y2={height / 2} />
      {rows.map(({ from, to }) => {
        const [note, span] = [notes[from], spans[from]];
        if (note === undefined || span === undefined) return null;
        const blow = note.action.breath === "blow";
        const isNow = now !== null && now >= note.index && now <= note.index + to - from;
        return (
          <text
            key={note.index}
            className={tabClass(note.index, isNow, large, narrow)}
            x={span.left + 8}
            y={(blow ? height / 2 : height) - 7 * textScale}
          >
            {writing.asked(note)}
          </text>
        );
      })}
    </svg>
  );
}

/** A bent draw note in the large size, "-3''", takes this much. */
const WIDE_ENOUGH = 76;
const MOST_SIGNS = 4;

/** Notes under one number, both counted in. */
interface Row {
  readonly from: number;
  readonly to: number;
}

/** Each note by itself; a chord that is struck again stands once, and anew in the bar to be read. */
function rowsOf(notes: readonly ExpectedNote[], large: TabRowProps["large"]): readonly Row[] {
  const rows: { from: number; to: number }[] = [];
  for (const [place, note] of notes.entries()) {
    const before = notes[place - 1];
    const again = note.chord !== undefined && before?.chord !== undefined && before.tab === note.tab;
    const last = rows.at(-1);
    if (again && last !== undefined && note.index !== large?.from && note.index !== large?.to)
      last.to = place;
    else rows.push({ from: place, to: place });
  }
  return rows;
}

function tabClass(
  index: number,
  isNow: boolean,
  large: TabRowProps["large"],
  narrow: boolean,
): string | undefined {
  const isLarge = large !== null && index >= large.from && index < large.to;
  const classes = [isNow ? "now" : "", isLarge ? "large" : "", isLarge && narrow ? "narrow" : ""];
  return classes.join(" ").trim() || undefined;
}
