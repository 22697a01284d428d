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
  const first = notes.filter((note, place) => !isStruckAgain(note, notes[place - 1]));
  const most = Math.max(4, ...first.map((note) => writing.asked(note).length));
  const needed = WIDE_ENOUGH * (most / 4) * textScale;
  const narrow = spans.some((span) => span.right - span.left < needed);
  return (
    <svg className="tab-row" width={width} height={height} aria-hidden="true">
      <line className="rule" x1={0} x2={width} y1={height / 2} y2={height / 2} />
      {notes.map((note, place) => {
        const span = spans[place];
        if (span === undefined) return null;
        const blow = note.action.breath === "blow";
        return (
          <text
            key={note.index}
            className={tabClass(note.index, now, large, narrow)}
            x={span.left + 8}
            y={(blow ? height / 2 : height) - 7 * textScale}
          >
            {isStruckAgain(note, notes[place - 1]) ? STRUCK_AGAIN : writing.asked(note)}
          </text>
        );
      })}
    </svg>
  );
}

/** Stands for the same chord once more: the row would be full of one number. */
const STRUCK_AGAIN = "·";

const isStruckAgain = (note: ExpectedNote, before: ExpectedNote | undefined): boolean =>
  note.chord !== undefined && before?.chord !== undefined && before.tab === note.tab;

/** A bent draw note in the large size, "-3''", takes this much. */
const WIDE_ENOUGH = 76;

function tabClass(
  index: number,
  now: number | null,
  large: TabRowProps["large"],
  narrow: boolean,
): string | undefined {
  const isLarge = large !== null && index >= large.from && index < large.to;
  const classes = [index === now ? "now" : "", isLarge ? "large" : "", isLarge && narrow ? "narrow" : ""];
  return classes.join(" ").trim() || undefined;
}
