import type { ReedAction } from "./reed-actions.ts";

/**
 * Tab in the trade's common form: the hole number, a minus sign for draw, an apostrophe for each semitone of a
 * bend and a small o for an overblow or overdraw. Common practice, no source.
 */
export function tab(action: ReedAction): string {
  const sign = action.breath === "draw" ? "-" : "";
  const overbend = action.technique === "overblow" || action.technique === "overdraw" ? "o" : "";
  return `${sign}${action.hole}${"'".repeat(action.bentSemitones)}${overbend}`;
}

/** A reed action in words: "3 draw, bent 2 semitones". */
export function actionInWords(action: ReedAction): string {
  const reed = `${action.hole} ${action.breath}`;
  if (action.technique === "plain") return reed;
  if (action.technique !== "bend") return `${action.hole} ${action.technique}`;
  return `${reed}, bent ${action.bentSemitones} ${action.bentSemitones === 1 ? "semitone" : "semitones"}`;
}
