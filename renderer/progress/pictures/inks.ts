import type { Ink } from "./drawing.ts";

type Coloured = Exclude<Ink, "nothing">;

/** The light theme of renderer/ui/base.css as plain colours, for files, which know no theme. A test compares the two. */
export const LIGHT_INKS: Readonly<Record<Coloured, string>> = {
  paper: "#fbfaf6",
  ink: "#1a1a1a",
  soft: "#55534e",
  rule: "#8b8880",
  band: "#dfe9f0",
  now: "#0072b2",
  look: "#b34a00",
};

/** An ink in the theme of the screen. */
export const screenInk = (ink: Ink): string => (ink === "nothing" ? "none" : `var(--${ink})`);

/** An ink on light paper. */
export const fileInk = (ink: Ink): string => (ink === "nothing" ? "none" : LIGHT_INKS[ink]);
