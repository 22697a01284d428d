import { type ReactNode, useState } from "react";
import { type DrillChoice, FIRST_CHOICE } from "./drill-choice.ts";
import type { Part } from "./part.ts";

interface MoreChoicesProps {
  readonly words: string;
  readonly parts: readonly Part[];
  readonly choice: DrillChoice;
  readonly children: ReactNode;
}

/** Choices few need every day, folded away; open from the start where one of them is not as it first was. */
export function MoreChoices({ words, parts, choice, children }: MoreChoicesProps) {
  const [isOpen, setOpen] = useState(() =>
    parts.some(({ fields }) => fields.some((field) => choice[field] !== FIRST_CHOICE[field])),
  );
  return (
    <details className="more" open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words}</summary>
      {isOpen && children}
    </details>
  );
}
