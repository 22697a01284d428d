import { useEffect, useRef, useState } from "react";
import { placeInWords } from "../../core/tune/bad-tune-words.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { Drawing } from "./drawing.tsx";
import type { ReadText } from "./tune-messages.ts";
import type { TuneWork } from "./tune-work.ts";
import { useUndo } from "./use-undo.ts";

interface TuneEditorProps {
  /** The text to begin with. */
  readonly text: string;
  readonly work: TuneWork;
  /** Keeps every tune of the text. */
  readonly onKeep: (tunes: ReadText["tunes"]) => void;
  readonly onLeave: () => void;
}

/** A moment without typing before the text is read again. */
const PAUSE_MS = 250;

/** Writing or pasting ABC, with the staff beside it and what is wrong named where it stands. */
export function TuneEditor({ text: first, work, onKeep, onLeave }: TuneEditorProps) {
  const { text, write, undo, redo, canUndo, canRedo } = useUndo(first);
  const area = useRef<HTMLTextAreaElement>(null);
  const [read, setRead] = useState<ReadText | null>(null);
  const [line, setLine] = useState(1);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => area.current?.focus(), []);
  useEffect(() => {
    const stop = new AbortController();
    const timer = setTimeout(() => {
      work.read(text, stop.signal).then(
        (found) => {
          setRead(found);
          setTrouble(null);
        },
        (error: unknown) => {
          if (!stop.signal.aborted) setTrouble(error instanceof Error ? error.message : String(error));
        },
      );
    }, PAUSE_MS);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [text, work]);
  const goTo = (place: { readonly line: number; readonly column: number } | null) => {
    const box = area.current;
    if (box === null || place === null) return;
    const before = text.split("\n").slice(0, place.line - 1);
    const at = before.reduce((sum, one) => sum + one.length + 1, 0) + place.column - 1;
    box.focus();
    box.setSelectionRange(at, Math.min(text.length, at + 1));
  };
  const shown = read === null ? null : tuneAt(read, text, line);
  return (
    <main className="tune-editor">
      <h1>Write or paste a tune</h1>
      {trouble !== null && (
        <p className="notice" role="alert">
          It could not be read: {trouble}. Your text is still here; change it to try again.
        </p>
      )}
      <div className="editor-parts">
        <div>
          <label htmlFor="abc-text">
            ABC <span className="soft">(several tunes may stand one after another)</span>
          </label>
          <textarea
            id="abc-text"
            ref={area}
            value={text}
            spellCheck={false}
            aria-describedby="abc-faults"
            onChange={(event) => write(event.target.value)}
            onSelect={(event) => setLine(lineOf(event.currentTarget))}
            onKeyDown={(event) => {
              const key = event.key.toLowerCase();
              if (!(event.ctrlKey || event.metaKey) || (key !== "z" && key !== "y")) return;
              event.preventDefault();
              if (key === "y" || event.shiftKey) redo();
              else undo();
            }}
          />
          <p className="row">
            <button type="button" disabled={!canUndo} onClick={undo}>
              Undo
            </button>
            <button type="button" disabled={!canRedo} onClick={redo}>
              Redo
            </button>
          </p>
        </div>
        <div>
          {shown === null ? <p className="soft">The staff stands here.</p> : <Drawing abc={shown.abc} />}
          <Faults read={read} onGo={goTo} />
        </div>
      </div>
      <p className="what-now">
        <button
          type="button"
          className="main"
          disabled={read === null || read.tunes.length === 0}
          onClick={() => read !== null && onKeep(read.tunes)}
        >
          {read !== null && read.tunes.length > 1
            ? `Keep these ${read.tunes.length} tunes`
            : "Keep this tune"}
        </button>{" "}
        <button type="button" onClick={onLeave}>
          Leave without keeping
        </button>
      </p>
    </main>
  );
}

interface FaultsProps {
  readonly read: ReadText | null;
  readonly onGo: (place: { readonly line: number; readonly column: number } | null) => void;
}

/** What could not be read, and what was put right or left out; each leads to its place. */
function Faults({ read, onGo }: FaultsProps) {
  if (read === null) return null;
  const faults = [
    ...(read.unreadable === null ? [] : [{ place: null, words: read.unreadable, bad: true }]),
    ...read.bad.map(({ place, reason }) => ({ place, words: reason, bad: true })),
    ...read.tunes.flatMap(({ tune }) => tune.remarks.map((remark) => ({ ...remark, bad: false }))),
  ];
  return (
    <ul id="abc-faults" className="faults" aria-live="polite">
      {faults.map(({ place, words, bad }) => (
        <li key={`${place?.line} ${place?.column} ${words}`} className={bad ? "bad" : "soft"}>
          {place === null ? (
            words
          ) : (
            <button type="button" className="open" onClick={() => onGo(place)}>
              {bad ? "Not read" : "Read"}
              {placeInWords(place)}: {words}
            </button>
          )}
        </li>
      ))}
    </ul>
  );
}

/** The tune of the text that a line stands in; the first where it stands in none. */
function tuneAt(read: ReadText, text: string, line: number): { tune: Tune; abc: string } | null {
  const lines = text.split("\n").slice(0, line);
  const before = lines.filter((one) => one.startsWith("X:")).length;
  return read.tunes[Math.max(0, Math.min(read.tunes.length, before) - 1)] ?? null;
}

const lineOf = (box: HTMLTextAreaElement) => box.value.slice(0, box.selectionStart).split("\n").length;
