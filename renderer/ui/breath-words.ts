import { type ExpectedNote, holesOf } from "../../core/exercise/exercise.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";

/** "breath out" or "breath in": what the player does. */
export function breathInWords(action: ReedAction): string {
  return action.breath === "blow" ? "breath out" : "breath in";
}

/** The next thing to do, in full: "hole 3, breath in, bent 2 semitones". */
export function doInWords(action: ReedAction): string {
  const parts = [`hole ${action.hole}`, breathInWords(action)];
  if (action.technique === "bend") {
    parts.push(`bent ${action.bentSemitones} ${action.bentSemitones === 1 ? "semitone" : "semitones"}`);
  } else if (action.technique !== "plain") parts.push(action.technique);
  return parts.join(", ");
}

/** The next note to play; of a chord all its holes: "holes 2 3 4, breath in". */
export function playInWords(note: Pick<ExpectedNote, "action" | "chord">): string {
  if (note.chord === undefined) return doInWords(note.action);
  return `holes ${holesOf(note).join(" ")}, ${breathInWords(note.action)}`;
}
