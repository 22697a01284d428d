import { semitones } from "../units.ts";
import { type Breath, MOST_HOLES } from "./layout.ts";
import type { ReedAction } from "./reed-actions.ts";

/** The forms tab is written in. */
export type TabForm = "signs" | "both signs" | "arrows" | "letters" | "words";

/** How the semitones of a bend are marked. */
export type BendMark = "quotes" | "strokes";

/** What stands before and after the hole number for each breath. */
interface Notation {
  readonly blow: readonly [before: string, after: string];
  readonly draw: readonly [before: string, after: string];
}

/** The notation table: hole numbers with a sign, an arrow or a letter for the breath. Common practice, no source. */
const NOTATIONS: Readonly<Record<Exclude<TabForm, "words">, Notation>> = {
  signs: { blow: ["", ""], draw: ["-", ""] },
  "both signs": { blow: ["+", ""], draw: ["-", ""] },
  arrows: { blow: ["", "↑"], draw: ["", "↓"] },
  letters: { blow: ["", "B"], draw: ["", "D"] },
};

/** Once for each semitone of a bend. */
const BEND_MARKS: Readonly<Record<BendMark, string>> = { quotes: "'", strokes: "/" };
const OVERBEND = "o";

/** A reed action in tab: "-3''" in signs, "3↓''" in arrows, "3D//" in letters with strokes, "3 draw, bent 2 semitones" in words. */
export function tab(action: ReedAction, form: TabForm = "signs", bends: BendMark = "quotes"): string {
  if (form === "words") return actionInWords(action);
  const [before, after] = NOTATIONS[form][action.breath];
  const overbend = isOverbend(action) ? OVERBEND : "";
  return `${before}${action.hole}${after}${BEND_MARKS[bends].repeat(action.bentSemitones)}${overbend}`;
}

/** Holes of one breath together: "-123" in signs, "123↓" in arrows, "9 10" where a number has two digits. */
export function chordTab(breath: Breath, holes: readonly number[], form: TabForm = "signs"): string {
  const numbers = holes.join(holes.some((hole) => hole > 9) ? " " : "");
  if (form === "words") return `${holes.join(" ")} ${breath}`;
  const [before, after] = NOTATIONS[form][breath];
  return `${before}${numbers}${after}`;
}

/** Reads holes together as `chordTab` writes them in signs, two or more; null for anything else. */
export function readChordTab(
  text: string,
): { readonly breath: Breath; readonly holes: readonly number[] } | null {
  const [, sign = "", numbers = ""] = /^([-+]?)(\d{2,}|\d{1,2}(?: \d{1,2})+)$/.exec(text.trim()) ?? [];
  const holes = (numbers.includes(" ") ? numbers.split(" ") : [...numbers]).map(Number);
  const rising = holes.every((hole, place) => hole > (holes[place - 1] ?? 0) && hole <= MOST_HOLES);
  return holes.length > 1 && rising ? { breath: sign === "-" ? "draw" : "blow", holes } : null;
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
 * Reads tab as `tab` writes it in signs or arrows with quotes; "+4" counts as blow.
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
