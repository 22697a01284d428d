import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import type { HistoryLine } from "../store/history-store.ts";
import { useDisplay } from "../ui/display.ts";
import { rowsInSight } from "../ui/rows-in-sight.ts";
import { UndoNotice } from "../ui/undo-notice.tsx";
import { useWriting } from "../ui/writing.ts";
import { FilterPart } from "./filter-part.tsx";
import { EVERYTHING, filtered, type Techniques } from "./history-filter.ts";
import "./history.css";

export type HistoryList =
  | { readonly kind: "loading" }
  | { readonly kind: "lines"; readonly lines: readonly HistoryLine[] }
  | { readonly kind: "trouble"; readonly words: string };

interface HistoryScreenProps {
  readonly list: HistoryList;
  /** Title of the attempt just deleted, while that can be taken back. */
  readonly deleted: string | null;
  /** How the notes of each attempt are sounded, by its id; null or absent while that is not known. */
  readonly techniques?: Techniques;
  readonly onOpen: (id: string) => void;
  readonly onDelete: (id: string) => void;
  readonly onUndo: () => void;
}

/** What was practised, newest first. */
export function HistoryScreen(props: HistoryScreenProps) {
  const { list, deleted, techniques = null, onOpen, onDelete, onUndo } = props;
  return (
    <main className="history">
      <h1>History</h1>
      {deleted !== null && <UndoNotice words={`Deleted: ${deleted}`} onUndo={onUndo} />}
      <HistoryBody list={list} techniques={techniques} onOpen={onOpen} onDelete={onDelete} />
    </main>
  );
}

type BodyProps = Pick<HistoryScreenProps, "list" | "onOpen" | "onDelete"> & {
  readonly techniques: Techniques;
};

function HistoryBody({ list, techniques, onOpen, onDelete }: BodyProps) {
  switch (list.kind) {
    case "loading":
      return <p role="status">Reading the history …</p>;
    case "trouble":
      return (
        <p className="notice" role="alert">
          {list.words}
        </p>
      );
    case "lines":
      return list.lines.length === 0 ? (
        <p>
          Nothing here yet. Every take you play or open is kept here with its marks: choose a drill and start.
        </p>
      ) : (
        <HistoryTable lines={list.lines} techniques={techniques} onOpen={onOpen} onDelete={onDelete} />
      );
  }
}

interface TableProps {
  readonly lines: readonly HistoryLine[];
  readonly techniques: Techniques;
  readonly onOpen: (id: string) => void;
  readonly onDelete: (id: string) => void;
}

/** The attempts a player looks for; of thousands only those in sight stand in the page. */
function HistoryTable({ lines, techniques, onOpen, onDelete }: TableProps) {
  const [filter, setFilter] = useState(EVERYTHING);
  const found = useMemo(() => filtered(lines, filter, techniques), [lines, filter, techniques]);
  const list = useRef<HTMLDivElement>(null);
  useEffect(() => list.current?.querySelector<HTMLElement>("button.open")?.focus(), []);
  return (
    <div className="history-list" ref={list}>
      <FilterPart lines={lines} filter={filter} knowsTechniques={techniques !== null} onFilter={setFilter} />
      <p className="soft" role="status">
        {found.length} {found.length === 1 ? "attempt" : "attempts"}
      </p>
      {found.length === 0 ? (
        <p>No attempt is like that. Choose less.</p>
      ) : (
        <Rows lines={found} onOpen={onOpen} onDelete={onDelete} />
      )}
    </div>
  );
}

/** Height of a row at the usual size of text, as in history.css. */
const ROW_PX = 72;

function Rows({ lines, onOpen, onDelete }: Omit<TableProps, "techniques">) {
  const rowPx = ROW_PX * useDisplay().textScale;
  const box = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const wanted = useRef<number | null>(null);
  const height = box.current?.clientHeight || 600;
  const buttonOf = (row: number) =>
    box.current?.querySelector<HTMLElement>(`[data-row="${row}"] button.open`) ?? null;
  const { from, to } = rowsInSight(lines.length, top, height, rowPx);
  useEffect(() => {
    if (wanted.current === null) return;
    buttonOf(wanted.current)?.focus();
    wanted.current = null;
  });
  const walk = (event: KeyboardEvent) => {
    const row = Number((event.target as HTMLElement).closest<HTMLElement>("[data-row]")?.dataset.row ?? -1);
    const page = Math.max(1, Math.floor(height / rowPx) - 1);
    const steps: Readonly<Record<string, number>> = {
      ArrowDown: 1,
      ArrowUp: -1,
      PageDown: page,
      PageUp: -page,
    };
    const step = steps[event.key];
    if (step === undefined || row < 0) return;
    event.preventDefault();
    const next = Math.max(0, Math.min(lines.length - 1, row + step));
    const button = buttonOf(next);
    if (button !== null) return button.focus();
    wanted.current = next;
    const seen = Math.max(0, next * rowPx - height / 2);
    if (box.current !== null) box.current.scrollTop = seen;
    setTop(seen);
  };
  return (
    <div className="history-rows" ref={box} onScroll={(event) => setTop(event.currentTarget.scrollTop)}>
      <table aria-rowcount={lines.length + 1}>
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Exercise</th>
            <th scope="col">Notes</th>
            <th scope="col">Intonation</th>
            <th scope="col">Timing</th>
            <th scope="col">
              <span className="only-read-aloud">Delete</span>
            </th>
          </tr>
        </thead>
        <tbody onKeyDown={walk}>
          <Space heightPx={from * rowPx} />
          {lines.slice(from, to).map((line, n) => (
            <HistoryRow key={line.id} line={line} row={from + n} onOpen={onOpen} onDelete={onDelete} />
          ))}
          <Space heightPx={(lines.length - to) * rowPx} />
        </tbody>
      </table>
    </div>
  );
}

/** Where the rows out of sight would stand. */
const Space = ({ heightPx }: { readonly heightPx: number }) =>
  heightPx > 0 ? (
    <tr>
      <td colSpan={6} style={{ height: heightPx, padding: 0 }} />
    </tr>
  ) : null;

interface RowProps extends Omit<TableProps, "lines" | "techniques"> {
  readonly line: HistoryLine;
  readonly row: number;
}

function HistoryRow({ line, row, onOpen, onDelete }: RowProps) {
  const { say } = useWriting();
  const when = new Date(line.atEpochMs);
  const { notes, intonation, timing } = line.summary;
  return (
    <tr data-row={row} aria-rowindex={row + 2}>
      <td>
        <time dateTime={when.toISOString()}>{WHEN.format(when)}</time>
      </td>
      <td>
        <button type="button" className="open" onClick={() => onOpen(line.id)}>
          {say(line.title)}
        </button>
        <div className="soft">
          {say(line.harp)}, {line.tempo}
          {line.source === "recording" ? ", from a recording" : ""}
        </div>
      </td>
      <td>
        {notes.hit} of {notes.expected - notes.notMeasured}
      </td>
      <td>{biasAndSpread(intonation.biasCents, intonation.spreadCents, "cents")}</td>
      <td>{biasAndSpread(timing.biasMs, timing.spreadMs, "ms")}</td>
      <td>
        <button type="button" onClick={() => onDelete(line.id)}>
          Delete<span className="only-read-aloud"> {say(line.title)}</span>
        </button>
      </td>
    </tr>
  );
}

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });

function biasAndSpread(bias: number | null, spread: number | null, unit: string): string {
  if (bias === null && spread === null) return "not measured";
  const parts = [
    bias === null ? null : `${signed(bias)} ${unit}`,
    spread === null ? null : `± ${spread.toFixed(0)}`,
  ];
  return parts.filter((part) => part !== null).join(" ");
}

function signed(value: number): string {
  const rounded = Math.round(value);
  return rounded > 0 ? `+${rounded}` : String(rounded === 0 ? 0 : rounded);
}
