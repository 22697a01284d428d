import type { ReactNode } from "react";
import type { DrillChoice } from "./drill-choice.ts";
import type { Shelf } from "./shelf.ts";

export interface PartProps {
  readonly choice: DrillChoice;
  readonly shelf: Shelf;
  readonly onChange: (part: Partial<DrillChoice>) => void;
}

/** One question of the drill screen. */
export interface Part {
  /** The choices it asks for. */
  readonly fields: readonly (keyof DrillChoice)[];
  readonly Ask: (props: PartProps) => ReactNode;
}

export const part = (Ask: Part["Ask"], ...fields: Part["fields"]): Part => ({ Ask, fields });
