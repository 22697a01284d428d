import { BusyLine } from "./busy-line.tsx";

/** What is going on with the made-up days. */
export type DemoWork =
  | { readonly kind: "none" }
  /** Share done, 0..1. */
  | { readonly kind: "adding"; readonly share: number }
  | { readonly kind: "removing"; readonly share: number }
  | { readonly kind: "trouble"; readonly words: string };

interface DemoNotesProps {
  /** Made-up attempts there are. */
  readonly attempts: number;
  readonly work: DemoWork;
  /** Whether the days may be offered: nothing of the player's own is there. */
  readonly isOffered: boolean;
  readonly onAdd: () => void;
  readonly onRemove: () => void;
  readonly onStop: () => void;
}

/** Offers thirty made-up days where there is nothing yet, and says that they are made up wherever they are shown. */
export function DemoNotes({ attempts, work, isOffered, onAdd, onRemove, onStop }: DemoNotesProps) {
  if (work.kind === "adding")
    return <BusyLine words="Making up thirty days of practice" share={work.share} onStop={onStop} />;
  if (work.kind === "removing")
    return <BusyLine words="Removing the made-up days" share={work.share} onStop={onStop} />;
  return (
    <>
      {work.kind === "trouble" && (
        <p className="notice" role="alert">
          {work.words}
        </p>
      )}
      {attempts > 0 && (
        <p className="notice row demo-notice">
          <span>
            <strong>Made-up days of a demonstration - not yours.</strong>
          </span>
          <button type="button" onClick={onRemove}>
            Remove them
          </button>
        </p>
      )}
      {attempts === 0 && isOffered && (
        <p className="row">
          <button type="button" onClick={onAdd}>
            See it with made-up days
          </button>
          <span className="soft">
            Thirty days of a player nobody is, to look at; they go in one step and leave nothing.
          </span>
        </p>
      )}
    </>
  );
}
