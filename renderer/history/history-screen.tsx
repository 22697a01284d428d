import { useEffect, useRef } from "react";
import type { HistoryLine } from "../store/history-store.ts";
import { UndoNotice } from "../ui/undo-notice.tsx";
import { walkRows } from "../ui/walk-rows.ts";
import { useWriting } from "../ui/writing.ts";
import "./history.css";

export type HistoryList =
  | { readonly kind: "loading" }
  | { readonly kind: "lines"; readonly lines: readonly HistoryLine[] }
  | { readonly kind: "trouble"; readonly words: string };

interface HistoryScreenProps {
  readonly list: HistoryList;
  /** Title of the attempt just deleted, while that can be taken back. */
  readonly deleted: string | null;
  readonly onOpen: (id: string) => void;
  readonly onDelete: (id: string) => void;
  readonly onUndo: () => void;
}

/** What was practised, newest first. */
export function HistoryScreen({ list, deleted, onOpen, onDelete, onUndo }: HistoryScreenProps) {
  return (
    <main className="history">
      <h1>History</h1>
      {deleted !== null && <UndoNotice words={`Deleted: ${deleted}`} onUndo={onUndo} />}
      <HistoryBody list={list} onOpen={onOpen} onDelete={onDelete} />
    </main>
  );
}

type BodyProps = Pick<HistoryScreenProps, "list" | "onOpen" | "onDelete">;

function HistoryBody({ list, onOpen, onDelete }: BodyProps) {
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
        <HistoryTable lines={list.lines} onOpen={onOpen} onDelete={onDelete} />
      );
  }
}

interface TableProps {
  readonly lines: readonly HistoryLine[];
  readonly onOpen: (id: string) => void;
  readonly onDelete: (id: string) => void;
}

function HistoryTable({ lines, onOpen, onDelete }: TableProps) {
  const body = useRef<HTMLTableSectionElement>(null);
  useEffect(() => body.current?.querySelector<HTMLElement>("button.open")?.focus(), []);
  return (
    <table>
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
      <tbody ref={body} onKeyDown={(event) => walkRows(event)}>
        {lines.map((line) => (
          <HistoryRow key={line.id} line={line} onOpen={onOpen} onDelete={onDelete} />
        ))}
      </tbody>
    </table>
  );
}

function HistoryRow({ line, onOpen, onDelete }: Omit<TableProps, "lines"> & { readonly line: HistoryLine }) {
  const { say } = useWriting();
  const when = new Date(line.atEpochMs);
  const { notes, intonation, timing } = line.summary;
  return (
    <tr>
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
