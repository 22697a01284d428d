import type { ReactNode } from "react";
import "./progress.css";
import type { Read } from "./progress-view.ts";

interface ReadingProps<Answer> {
  readonly read: Read<Answer>;
  readonly onStop: () => void;
  readonly onAgain: () => void;
  readonly children: (answer: Answer) => ReactNode;
}

/** What was read, or that it is being read, or why it cannot be. */
export function Reading<Answer>({ read, onStop, onAgain, children }: ReadingProps<Answer>) {
  switch (read.kind) {
    case "reading":
      return (
        <p role="status">
          Going through the history …{" "}
          <button type="button" onClick={onStop}>
            Stop
          </button>
        </p>
      );
    case "trouble":
      return (
        <div className="notice" role="alert">
          <p>{read.words}</p>
          <button type="button" onClick={onAgain}>
            Try again
          </button>
        </div>
      );
    case "read":
      return children(read.answer);
  }
}
