import { semitones } from "../units.ts";
import { MOST_HOLES } from "./layout.ts";
import type { ReedAction } from "./reed-actions.ts";

/** The forms tab is written in. */
export type TabForm = "signs" | "arrows" | "words";
export const TAB_FORMS: readonly TabForm[] = ["signs", "arrows", "words"];

/** What stands before and after the hole number for each breath, and the marks of what is not plain. */
interface Notation {
  readonly blow: readonly [before: string, after: string];
  readonly draw: readonly [before: string, after: string];
  /** Once for each semitone of a bend. */
  readonly bend: string;
  readonly overbend: string;
}

/** The notation table: hole numbers with a minus sign for draw, or with an arrow for the breath. Common practice, no source. */
const NOTATIONS: Readonly<Record<Exclude<TabForm, "words">, Notation>> = {
  signs: { blow: ["", ""], draw: ["-", ""], bend: "'", overbend: "o" },
  arrows: { blow: ["", "↑"], draw: ["", "↓"], bend: "'", overbend: "o" },
};

/** A reed action in tab: "-3''" in signs, "3↓''" in arrows, "3 draw, bent 2 semitones" in words. */
export function tab(action: ReedAction, form: TabForm = "signs"): string {
  if (form === "words") return actionInWords(action);
  const notation = NOTATIONS[form];
  const [before, after] = notation[action.breath];
  const overbend = isOverbend(action) ? notation.overbend : "";
  return `${before}${action.hole}${after}${notation.bend.repeat(action.bentSemitones)}${overbend}`;
}

/** A reed action in words: "3 draw, bent 2 semitones". */
export function actionInWords(action: ReedAction): string {
  const reed = `${action.hole} ${action.breath}`;
  if (action.technique === "plain") return reed;
  if (isOverbend(action)) return `${action.hole} ${action.technique}`;
  return `${reed}, bent ${action.bentSemitones} ${action.bentSemitones === 1 ? "semitone" : "semitones"}`;
}

const isOverbend = (action: ReedAction) => action.technique === "overblow" || action.technique === "overdraw";

/**
 * Reads tab as `tab` writes it in signs or arrows; "+4" counts as blow.
 *
 * @returns the action, or null if the text is not tab; whether a harp can do it, `actionNote` tells
 */
export function readTab(text: string): ReedAction | null {
  const match = /^([-+]?)(\d{1,2})([↑↓]?)('*)(o?)$/.exec(text.trim());
  if (match === null) return null;
  const [, sign = "", number = "", arrow = "", bends = "", over = ""] = match;
  const hole = Number(number);
  const twice = (sign !== "" && arrow !== "") || (bends !== "" && over !== "");
  if (twice || hole < 1 || hole > MOST_HOLES) return null;
  const breath = sign === "-" || arrow === "↓" ? "draw" : "blow";
  const bentSemitones = semitones(bends.length);
  if (over !== "")
    return { hole, breath, technique: breath === "blow" ? "overblow" : "overdraw", bentSemitones };
  return { hole, breath, technique: bends === "" ? "plain" : "bend", bentSemitones };
}
