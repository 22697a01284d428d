import { type ReactNode, useEffect, useRef, useState } from "react";
import { Drawing } from "./drawing.tsx";

interface FileQuestionsProps {
  /** Of the heading, within the page. */
  readonly id: string;
  readonly heading: string;
  /** Null while it is read for the first time. */
  readonly read:
    | { readonly kind: "preview"; readonly preview: { readonly abc: string } }
    | { readonly kind: "unreadable"; readonly reason: string }
    | null;
  /** What is asked. */
  readonly children: ReactNode;
  readonly onKeep: () => void;
  readonly onLeave: () => void;
}

/** What a file does not say of its tune, asked before the tune is kept, with the staff it would be. */
export function FileQuestions({ id, heading, read, children, onKeep, onLeave }: FileQuestionsProps) {
  const top = useRef<HTMLHeadingElement>(null);
  useEffect(() => top.current?.focus(), []);
  return (
    <section className="file-questions notice" aria-labelledby={id}>
      <h2 id={id} tabIndex={-1} ref={top}>
        {heading}
      </h2>
      {read === null && <p role="status">Reading …</p>}
      {read?.kind === "unreadable" && <p role="alert">It cannot be read: {read.reason}.</p>}
      {children}
      <p className="what-now">
        <button type="button" className="main" disabled={read?.kind !== "preview"} onClick={onKeep}>
          Keep this tune
        </button>
        <button type="button" onClick={onLeave}>
          Leave it
        </button>
      </p>
      {read?.kind === "preview" && <Drawing abc={read.preview.abc} />}
    </section>
  );
}

type Unreadable = { readonly kind: "unreadable"; readonly reason: string };

/**
 * The file read with some choices, off the window's thread; while it is, what was read before stays.
 *
 * @param read the same function as long as file and choices are the same
 */
export function usePreview<T>(read: (signal: AbortSignal) => Promise<T>): T | Unreadable | null {
  const [found, setFound] = useState<T | Unreadable | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    read(stop.signal).then(setFound, (error: unknown) => {
      if (stop.signal.aborted) return;
      setFound({ kind: "unreadable", reason: error instanceof Error ? error.message : String(error) });
    });
    return () => stop.abort();
  }, [read]);
  return found;
}
