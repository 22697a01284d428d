import type { ExpectedNote } from "../../core/exercise/exercise.ts";
import type { NoteSpan } from "./staff.tsx";

interface TabRowProps {
  readonly notes: readonly ExpectedNote[];
  readonly spans: readonly NoteSpan[];
  readonly width: number;
  readonly now: number | null;
}

export const TAB_HEIGHT = 56;

/** Hole and breath under each note: blow stands above the row's middle, draw below it, as on the harp. */
export function TabRow({ notes, spans, width, now }: TabRowProps) {
  return (
    <svg className="tab-row" width={width} height={TAB_HEIGHT} aria-hidden="true">
      <line className="rule" x1={0} x2={width} y1={TAB_HEIGHT / 2} y2={TAB_HEIGHT / 2} />
      {notes.map((note, place) => {
        const span = spans[place];
        if (span === undefined) return null;
        const blow = note.action.breath === "blow";
        return (
          <text
            key={note.index}
            className={note.index === now ? "now" : undefined}
            x={span.left + 8}
            y={blow ? TAB_HEIGHT / 2 - 5 : TAB_HEIGHT - 5}
          >
            {note.tab}
          </text>
        );
      })}
    </svg>
  );
}
