import type { ReactNode } from "react";
import { REED_WORK_CAUTION } from "../../core/workshop/reed-work-caution.ts";
import { PARTS_WITH_REED_WORK, WORKSHOP_PARTS, type WorkshopPart } from "./workshop-parts.ts";
import "./workshop.css";

interface WorkshopScreenProps {
  readonly part: WorkshopPart;
  /** Whether the player has read what to mind when working on reeds; it then folds away. */
  readonly cautionRead: boolean;
  readonly onPart: (part: WorkshopPart) => void;
  readonly onCautionRead: () => void;
  /** The part that is open. */
  readonly children: ReactNode;
}

/** The frame of the workshop: the way between its parts, the question of the open one, and what to mind. */
export function WorkshopScreen(props: WorkshopScreenProps) {
  const { part, onPart, children } = props;
  const asks = WORKSHOP_PARTS.find((one) => one.part === part)?.asks ?? "";
  return (
    <>
      <nav className="row parts-of-room" aria-label="Parts of the workshop">
        {WORKSHOP_PARTS.map((one) => (
          <button
            key={one.part}
            type="button"
            aria-current={one.part === part ? "page" : undefined}
            onClick={() => onPart(one.part)}
          >
            {one.name}
          </button>
        ))}
      </nav>
      <main className="workshop">
        <h1>{asks}</h1>
        {PARTS_WITH_REED_WORK.includes(part) && <ReedWorkCaution {...props} />}
        {children}
      </main>
    </>
  );
}

/** In full until it is read, then folded, never gone. */
function ReedWorkCaution({ cautionRead, onCautionRead }: WorkshopScreenProps) {
  if (cautionRead) {
    return (
      <details className="reed-work">
        <summary>Working on reeds: what to mind</summary>
        <p className="caution">{REED_WORK_CAUTION}</p>
      </details>
    );
  }
  return (
    <aside className="caution" aria-label="Reed work">
      <strong>Working on reeds.</strong> {REED_WORK_CAUTION}{" "}
      <button type="button" onClick={onCautionRead}>
        I have read it
      </button>
    </aside>
  );
}
