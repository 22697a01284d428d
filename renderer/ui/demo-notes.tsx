import { BusyLine } from "./busy-line.tsx";

/** What is going on with the made-up days. */
export type DemoWork =
  | { readonly kind: "none" }
  /** Share done, 0..1. */
  | { readonly kind: "adding"; readonly share: number }
  | { readonly kind: "removing"; readonly share: number }
  | { readonly kind: "trouble"; readonly words: string };

interface DemoLabelProps {
  /** Made-up attempts there are. */
  readonly attempts: number;
  readonly work: DemoWork;
  readonly onRemove: () => void;
  readonly onStop: () => void;
}

/** Says wherever made-up days are shown that they are; one button takes them all away. */
export function DemoLabel({ attempts, work, onRemove, onStop }: DemoLabelProps) {
  const isRemoving = work.kind === "removing";
  if (attempts === 0 && !isRemoving) return null;
  return (
    <aside className="demo-label" aria-label="Demonstration">
      {isRemoving ? (
        <BusyLine words="Removing the made-up days" share={work.share} onStop={onStop} />
      ) : (
        <p className="notice row">
          <strong>Made-up days of a demonstration - not yours.</strong>
          <button type="button" onClick={onRemove}>
            Remove them
          </button>
        </p>
      )}
    </aside>
  );
}

interface DemoOfferProps {
  readonly work: DemoWork;
  readonly onAdd: () => void;
  readonly onStop: () => void;
}

/** Offers the made-up days where there is nothing of the player's own yet. */
export function DemoOffer({ work, onAdd, onStop }: DemoOfferProps) {
  return (
    <aside className="demo-offer" aria-label="Demonstration">
      {work.kind === "adding" ? (
        <BusyLine words="Making up thirty days of practice" share={work.share} onStop={onStop} />
      ) : (
        <p className="row">
          <button type="button" onClick={onAdd}>
            See it with made-up days
          </button>
          <span className="soft">
            Thirty days of a player nobody is, to look at. They go in one step and leave nothing.
          </span>
        </p>
      )}
    </aside>
  );
}
