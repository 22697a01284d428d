import type { Harp } from "../../core/instrument/harp.ts";
import { naturalModeOf } from "../../core/instrument/position-report.ts";
import { type Position, positionHome, positionHomeName } from "../../core/instrument/positions.ts";
import {
  type Abilities,
  EVERYTHING,
  PLAIN_AND_BENDS,
  PLAIN_ONLY,
} from "../../core/instrument/reed-actions.ts";
import { type HomeScale, modeOn } from "../../core/instrument/scale-report.ts";
import { type ModeName, spellingOf } from "../../core/pitch/modes.ts";
import { type ChosenHarp, FIRST_HARP } from "../ui/chosen-harp.ts";
import type { LayoutDraft } from "./layout-draft.ts";

export const SKILLS = ["plain", "bends", "everything"] as const;
export type Skill = (typeof SKILLS)[number];

export const ABILITIES_OF: Readonly<Record<Skill, Abilities>> = {
  plain: PLAIN_ONLY,
  bends: PLAIN_AND_BENDS,
  everything: EVERYTHING,
};

/** What is looked at, and the layout being changed, if one is. The drafts live here, so that no other room loses them. */
export interface InstrumentView {
  readonly chosen: ChosenHarp;
  readonly position: Position;
  readonly mode: ModeName;
  readonly skill: Skill;
  readonly draft: LayoutDraft | null;
  /** The changes left last without saving them, for the way back. */
  readonly left: LayoutDraft | null;
}

export const FIRST_VIEW: InstrumentView = {
  chosen: FIRST_HARP,
  position: 2,
  mode: "mixolydian",
  skill: "everything",
  draft: null,
  left: null,
};

/** The view without the layout being changed; changes not saved can be had back. */
export function leaveDraft(view: InstrumentView): InstrumentView {
  const { draft } = view;
  return { ...view, draft: null, left: draft !== null && draft.past.length > 0 ? draft : view.left };
}

/** The view in another position, and with it in the mode the reeds give there. */
export function inPosition(view: InstrumentView, harp: Harp, position: Position): InstrumentView {
  return { ...view, position, mode: naturalModeOf(harp, position) ?? view.mode };
}

/** The mode on the home note, with a name for every note there is, so that bends outside the mode agree with their degree. */
export function scaleOfView(harp: Harp, { position, mode }: InstrumentView): HomeScale {
  const homeName = positionHomeName(harp, position);
  return { ...modeOn(positionHome(harp, position), mode, homeName), spelling: spellingOf(homeName, mode) };
}
