import * as v from "valibot";
import { idOfName } from "../../core/instrument/change-layout.ts";
import { KEYS_BY_REGISTER, REGISTERS } from "../../core/instrument/harp.ts";
import { temperamentShape } from "../../core/instrument/harp-shape.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { checkLayout, LAYOUT_SCHEMA, LAYOUT_VERSION } from "../../core/instrument/layout-json.ts";
import { POSITIONS } from "../../core/instrument/positions.ts";
import type { Temperament } from "../../core/instrument/temperament.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { type ChosenHarp, inKey } from "../ui/chosen-harp.ts";
import { FIRST_VIEW, type InstrumentView, SKILLS } from "./instrument-view.ts";
import type { LayoutDraft } from "./layout-draft.ts";

/** Steps back and forth that a kept draft keeps: it is written anew with every change. */
const MOST_STEPS = 50;

/** The view as plain data that outlives a visit: what was chosen, and the layout being changed with its steps. */
export function viewToKeep({ chosen, position, mode, skill, draft }: InstrumentView) {
  const { layout, key, register, temperament } = chosen;
  return { layout, key, register, temperament, position, mode, skill, draft: draft && draftToKeep(draft) };
}

function draftToKeep({ ownId, begun, past, now, future }: LayoutDraft) {
  return { ownId, begun, past: past.slice(-MOST_STEPS), now, future: future.slice(0, MOST_STEPS) };
}

/** The view kept from the last visit; what of it makes no sense has its first value, and a broken draft is none. */
export function viewOfSettings(kept: Readonly<Record<string, unknown>> | null): InstrumentView {
  const { chosen, position, mode, skill } = FIRST_VIEW;
  const read = <T>(shape: v.GenericSchema<unknown, T>, field: string, first: T): T => {
    const result = v.safeParse(shape, kept?.[field]);
    return result.success ? result.output : first;
  };
  const key = read(v.string(), "key", chosen.key);
  const harp: ChosenHarp = {
    layout: layoutOf(kept?.layout) ?? chosen.layout,
    key: chosen.key,
    register: read(v.picklist(REGISTERS), "register", chosen.register),
    temperament: temperamentOf(kept?.temperament) ?? chosen.temperament,
  };
  return {
    ...FIRST_VIEW,
    chosen: inKey(harp, KEYS_BY_REGISTER.includes(key) ? key : chosen.key),
    position: read(v.picklist(POSITIONS), "position", position),
    mode: read(v.picklist(MODE_NAMES), "mode", mode),
    skill: read(v.picklist(SKILLS), "skill", skill),
    draft: draftOf(kept?.draft),
  };
}

function temperamentOf(kept: unknown): Temperament | null {
  const result = v.safeParse(temperamentShape, kept);
  return result.success ? (result.output as Temperament) : null;
}

function layoutOf(kept: unknown): Layout | null {
  const read = checkLayout({ ...objectOf(kept), schema: LAYOUT_SCHEMA, version: LAYOUT_VERSION });
  return read.kind === "layout" ? read.layout : null;
}

/** While a layout is changed it may have any name, even none: the player is about to type one. */
function unfinishedLayoutOf(kept: unknown): Layout | null {
  const { id, name } = objectOf(kept);
  if (typeof name !== "string" || name.length > LONGEST_UNFINISHED_NAME) return null;
  const read = layoutOf({ ...objectOf(kept), id: "draft", name: "draft" });
  if (read === null) return null;
  const isId = typeof id === "string" && idOfName(id) === id;
  return { ...read, id: isId ? id : idOfName(name), name };
}

const LONGEST_UNFINISHED_NAME = 1000;

function draftOf(kept: unknown): LayoutDraft | null {
  const { ownId, begun, past, now, future } = objectOf(kept);
  const layout = unfinishedLayoutOf(now);
  if (layout === null) return null;
  return {
    ownId: typeof ownId === "string" ? ownId : null,
    begun: unfinishedLayoutOf(begun) ?? layout,
    past: stepsOf(past),
    now: layout,
    future: stepsOf(future),
    naming: false,
  };
}

/** Every step or none: with one missing the way back would jump. */
function stepsOf(kept: unknown): readonly Layout[] {
  const steps = Array.isArray(kept) ? kept.slice(0, MOST_STEPS).map(unfinishedLayoutOf) : [];
  const whole = steps.filter((step) => step !== null);
  return whole.length === steps.length ? whole : [];
}

const objectOf = (kept: unknown): Readonly<Record<string, unknown>> =>
  typeof kept === "object" && kept !== null ? { ...kept } : {};
