import {
  addHole,
  changeReed,
  changeValve,
  removeHole,
  renameLayout,
} from "../../core/instrument/change-layout.ts";
import {
  type Breath,
  HIGHEST_REED,
  type Layout,
  LOWEST_REED,
  reedAt,
  reedsOf,
} from "../../core/instrument/layout.ts";
import { readLayout, writeLayout } from "../../core/instrument/layout-json.ts";
import { stockLayout } from "../../core/instrument/stock-layouts.ts";
import { pitchClass, pitchClassOfName } from "../../core/pitch/note-names.ts";
import { semitones } from "../../core/units.ts";

/** A layout being changed, with the way back and forth. */
export interface LayoutDraft {
  /** Id of the player's own layout it will replace; null for a new one. */
  readonly ownId: string | null;
  readonly begun: Layout;
  readonly past: readonly Layout[];
  readonly now: Layout;
  readonly future: readonly Layout[];
  /** Whether the last step was a change of name: letter after letter is one step. */
  readonly naming: boolean;
}

export function beginDraft(layout: Layout, ownId: string | null): LayoutDraft {
  return { ownId, begun: layout, past: [], now: layout, future: [], naming: false };
}

/** The draft after a change; the same draft where nothing changed. */
export function changeDraft(draft: LayoutDraft, layout: Layout): LayoutDraft {
  if (layout === draft.now) return draft;
  return { ...draft, past: [...draft.past, draft.now], now: layout, future: [], naming: false };
}

/** The draft under another name. */
export function renameDraft(draft: LayoutDraft, name: string): LayoutDraft {
  const past = draft.naming ? draft.past : [...draft.past, draft.now];
  return { ...draft, past, now: renameLayout(draft.now, name), future: [], naming: true };
}

export function undoDraft(draft: LayoutDraft): LayoutDraft {
  const back = draft.past.at(-1);
  if (back === undefined) return draft;
  const future = [draft.now, ...draft.future];
  return { ...draft, past: draft.past.slice(0, -1), now: back, future, naming: false };
}

export function redoDraft(draft: LayoutDraft): LayoutDraft {
  const [next, ...future] = draft.future;
  if (next === undefined) return draft;
  return { ...draft, past: [...draft.past, draft.now], now: next, future, naming: false };
}

/** A reed moved by semitones, held within bounds; a reed that is not there begins on the hole's other note. */
export function stepReed(layout: Layout, hole: number, breath: Breath, by: number): Layout {
  const here = reedAt(layout, hole, breath);
  const other = reedAt(layout, hole, breath === "blow" ? "draw" : "blow") ?? 0;
  const wanted = here === null ? other : here + by;
  const sounds = Math.max(LOWEST_REED, Math.min(HIGHEST_REED, wanted));
  return sounds === here ? layout : changeReed(layout, hole, breath, semitones(sounds));
}

/**
 * A reed set to the nearest note of a letter, upwards where two are as near; one that is not there begins on the hole's
 * other note.
 *
 * @param letter C to B
 * @param keyNote the pitch the layout's semitones count from
 */
export function reedToLetter(
  layout: Layout,
  hole: number,
  breath: Breath,
  letter: string,
  keyNote: number,
): Layout {
  const wanted = pitchClassOfName(letter);
  if (wanted === null) return layout;
  const here = reedAt(layout, hole, breath);
  const from = here ?? reedAt(layout, hole, breath === "blow" ? "draw" : "blow") ?? 0;
  const up = pitchClass(wanted - keyNote - from);
  const sounds = withinBounds(from + (up <= 6 ? up : up - 12));
  return sounds === here ? layout : changeReed(layout, hole, breath, semitones(sounds));
}

/** A reed moved by octaves; one that would go out of bounds, or is not there, stays. */
export function octaveReed(layout: Layout, hole: number, breath: Breath, octaves: number): Layout {
  const here = reedAt(layout, hole, breath);
  if (here === null) return layout;
  const sounds = here + 12 * octaves;
  return withinBounds(sounds) === sounds ? changeReed(layout, hole, breath, semitones(sounds)) : layout;
}

/** The note itself, or the nearest octave of it that a layout file can say. */
function withinBounds(sounds: number): number {
  if (sounds > HIGHEST_REED) return sounds - 12;
  return sounds < LOWEST_REED ? sounds + 12 : sounds;
}

/** The layout without a reed; the last reed of all stays. */
export function takeReedOut(layout: Layout, hole: number, breath: Breath): Layout {
  if (reedAt(layout, hole, breath) === null || reedsOf(layout).length === 1) return layout;
  return changeReed(layout, hole, breath, null);
}

/** The layout with a reed's valve put on, or taken off if it has one. */
export function switchValve(layout: Layout, hole: number, breath: Breath): Layout {
  if (reedAt(layout, hole, breath) === null) return layout;
  const isValved = (layout.holes[hole - 1]?.valved ?? []).includes(breath);
  return changeValve(layout, hole, breath, !isValved);
}

/** The layout with so many holes; holes whose removal would leave no reed stay. */
export function withHoles(layout: Layout, count: number): Layout {
  let changed = layout;
  while (changed.holes.length < count) changed = addHole(changed);
  while (changed.holes.length > count) {
    const shorter = removeHole(changed);
    if (reedsOf(shorter).length === 0) break;
    changed = shorter;
  }
  return changed;
}

/** The layout labelled by another note, 0 to 11 semitones above the key note. */
export function withLabelKey(layout: Layout, labelKey: number): Layout {
  const { labelKey: _, ...rest } = layout;
  return labelKey === 0 ? rest : { ...rest, labelKey: semitones(labelKey) };
}

const LONGEST_NAME = 80;

/**
 * Why a layout cannot be kept under its name, in one sentence; null if it can.
 *
 * @param others the player's other layouts
 */
export function whyNotKeep(layout: Layout, others: readonly Layout[]): string | null {
  const name = layout.name.trim();
  if (name === "") return "Give the layout a name.";
  if (name.length > LONGEST_NAME) return `The name may have ${LONGEST_NAME} characters.`;
  if (stockLayout(layout.id) !== null)
    return "A layout of the catalogue is called so. Give yours another name.";
  if (others.some((other) => other.id === layout.id))
    return "Another layout of yours is called so. Give this one another name.";
  // What is kept must be readable from a file again.
  const read = readLayout(writeLayout(layout));
  return read.kind === "layout" ? null : `This cannot be kept: ${read.reason}.`;
}

/** A layout to change freely, under a name that none of the others has: "standard, changed", "standard, changed 2" … */
export function copyToChange(layout: Layout, others: readonly Layout[]): Layout {
  return withFreeName(renameLayout(layout, shortened(layout.name, ", changed")), others);
}

/** The layout as it is kept beside others: a name already taken gets a number behind it. */
export function withFreeName(layout: Layout, others: readonly Layout[]): Layout {
  const isFree = (id: string) => stockLayout(id) === null && others.every((other) => other.id !== id);
  if (isFree(layout.id)) return layout;
  let number = 2;
  // Short names of long names are cut, so the number goes behind both.
  const numbered = () => `${layout.id.slice(0, 56).replace(/-$/, "")}-${number}`;
  while (!isFree(numbered())) number += 1;
  return { ...layout, id: numbered(), name: shortened(layout.name, ` ${number}`) };
}

/** A name with an ending, cut where both would be too long. */
function shortened(name: string, ending: string): string {
  // A character of two halves is not cut in the middle.
  return name.slice(0, LONGEST_NAME - ending.length).replace(/[\ud800-\udbff]$/, "") + ending;
}
