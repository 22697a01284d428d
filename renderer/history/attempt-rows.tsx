import { type FocusEvent, type KeyboardEvent, useEffect, useRef, useState } from "react";
import type { HistoryLine } from "../store/history-store.ts";
import { useDisplay } from "../ui/display.ts";
import { rowsInSight } from "../ui/rows-in-sight.ts";
import { type AttemptActions, AttemptRow } from "./attempt-row.tsx";

interface AttemptRowsProps extends AttemptActions {
  /** As far as they are read. */
  readonly lines: readonly HistoryLine[];
  /** All there are; null where that is not known. */
  readonly count: number | null;
  readonly chosen: ReadonlySet<string>;
  readonly onChoose: (id: string, isChosen: boolean) => void;
  /** Asks for the next lines; told whenever the end of those read comes near. */
  readonly onNearEnd: () => void;
  /** Escape: back to what they are looked for by. */
  readonly onLeave: () => void;
}

/** Height of a row at the usual size of text, and of one in large text, per size of text: as in history.css. */
const ROW_PX = { usual: 72, large: 112 };
const LARGE = 1.5;
/** So many rows before the end of what is read the next are asked for. */
const NEAR_ROWS = 60;

/** Only the rows in sight stand in the page; arrows and page keys walk them, in the column one is in. */
export function AttemptRows(props: AttemptRowsProps) {
  const { lines, count, chosen, onChoose, onNearEnd, onLeave, ...actions } = props;
  const { textScale } = useDisplay();
  const rowPx = (textScale < LARGE ? ROW_PX.usual : ROW_PX.large) * textScale;
  const box = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const height = box.current?.clientHeight || 600;
  const { from, to } = rowsInSight(lines.length, top, height, rowPx);
  useEffect(() => {
    if (to >= lines.length - NEAR_ROWS) onNearEnd();
  }, [to, lines.length, onNearEnd]);
  const scrollTo = (px: number) => {
    if (box.current !== null) box.current.scrollTop = px;
    setTop(px);
  };
  const walk = useWalk({ box, lines, height, rowPx, scrollTo, onLeave });
  return (
    <div className="history-rows" ref={box} onScroll={(event) => setTop(event.currentTarget.scrollTop)}>
      <table aria-rowcount={count === null ? -1 : count + 1}>
        <Headings />
        <tbody {...walk}>
          <Space heightPx={from * rowPx} />
          {lines.slice(from, to).map((line, n) => (
            <AttemptRow
              key={line.id}
              line={line}
              row={from + n}
              isChosen={chosen.has(line.id)}
              onChoose={onChoose}
              {...actions}
            />
          ))}
          <Space heightPx={(lines.length - to) * rowPx} />
        </tbody>
      </table>
    </div>
  );
}

const Headings = () => (
  <thead>
    <tr>
      <th scope="col">
        <span className="only-read-aloud">Choose</span>
      </th>
      <th scope="col">When</th>
      <th scope="col">Exercise</th>
      <th scope="col">Notes</th>
      <th scope="col">Intonation</th>
      <th scope="col">Timing</th>
      <th scope="col">
        <span className="only-read-aloud">Star, delete</span>
      </th>
    </tr>
  </thead>
);

const COLUMNS = 7;

/** Where the rows out of sight would stand. */
const Space = ({ heightPx }: { readonly heightPx: number }) =>
  heightPx > 0 ? (
    <tr>
      <td colSpan={COLUMNS} style={{ height: heightPx, padding: 0 }} />
    </tr>
  ) : null;

interface Walked {
  readonly box: React.RefObject<HTMLDivElement | null>;
  readonly lines: readonly HistoryLine[];
  readonly height: number;
  readonly rowPx: number;
  readonly scrollTo: (px: number) => void;
  readonly onLeave: () => void;
}

/** A control of a row: "open", "star". */
interface Place {
  readonly row: number;
  readonly control: string;
}

const placeOf = (target: EventTarget): Place => {
  const element = target as HTMLElement;
  return {
    row: Number(element.closest<HTMLElement>("[data-row]")?.dataset.row ?? -1),
    control: element.closest<HTMLElement>("[data-control]")?.dataset.control ?? "open",
  };
};

/**
 * Moves the focus from row to row. One that does not stand in the page yet has it as soon as it does; where the row that had it
 * is gone, the row in its place has it.
 */
function useWalk({ box, lines, height, rowPx, scrollTo, onLeave }: Walked) {
  const wanted = useRef<Place | null>(null);
  const last = useRef<Place | null>(null);
  const controlIn = ({ row, control }: Place) =>
    box.current?.querySelector<HTMLElement>(`[data-row="${row}"] [data-control="${control}"]`) ?? null;
  useEffect(() => {
    if (wanted.current === null) return;
    controlIn(wanted.current)?.focus();
    wanted.current = null;
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: rows may be gone where the lines are others
  useEffect(() => {
    const { current } = last;
    if (current === null || document.activeElement !== document.body) return;
    controlIn({ ...current, row: Math.min(current.row, lines.length - 1) })?.focus();
  }, [lines]);
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "Escape") {
      event.preventDefault();
      return onLeave();
    }
    const { row, control } = placeOf(event.target);
    const page = Math.max(1, Math.floor(height / rowPx) - 1);
    const step = { ArrowDown: 1, ArrowUp: -1, PageDown: page, PageUp: -page }[event.key];
    if (step === undefined || row < 0) return;
    event.preventDefault();
    const next = { row: Math.max(0, Math.min(lines.length - 1, row + step)), control };
    const found = controlIn(next);
    if (found !== null) return found.focus();
    wanted.current = next;
    scrollTo(Math.max(0, next.row * rowPx - height / 2));
  };
  return {
    onKeyDown,
    onFocus: ({ target }: FocusEvent) => {
      last.current = placeOf(target);
    },
    // To nothing at all it goes where a row is taken away.
    onBlur: ({ relatedTarget }: FocusEvent) => {
      if (relatedTarget !== null) last.current = null;
    },
  };
}
