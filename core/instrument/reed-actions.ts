import { type Midi, midi, type Semitones, semitones } from "../units.ts";
import type { Harp } from "./harp.ts";
import { type Breath, type Hole, type Layout, MOST_HOLES } from "./layout.ts";

export type Technique = "plain" | "bend" | "overblow" | "overdraw";

/** One way to sound a note. */
export interface ReedAction {
  /** Counted from 1, lowest first. */
  readonly hole: number;
  readonly breath: Breath;
  readonly technique: Technique;
  /** How far a bend goes below the plain reed, in whole semitones; 0 for every other technique. */
  readonly bentSemitones: Semitones;
}

/** In which holes: all of them, none, or the numbers of some, counted from 1. */
export type InHoles = boolean | readonly number[];

/** What the player can do besides plain notes. */
export interface Abilities {
  readonly bends: InHoles;
  /** Overblows and overdraws; a hole has at most one of the two. */
  readonly overbends: InHoles;
}

export const PLAIN_ONLY: Abilities = { bends: false, overbends: false };
export const PLAIN_AND_BENDS: Abilities = { bends: true, overbends: false };
export const EVERYTHING: Abilities = { bends: true, overbends: true };

const inHole = (where: InHoles, hole: number) => (typeof where === "boolean" ? where : where.includes(hole));

/** Reads "yes", "no" or hole numbers ("4 6", "4,6"); null if the text is none of these. */
export function readHoles(text: string): InHoles | null {
  if (text === "yes" || text === "true") return true;
  if (text === "no" || text === "false") return false;
  const numbers = text
    .split(/[\s,]+/)
    .filter((word) => word !== "")
    .map(Number);
  const known = numbers.every((hole) => Number.isInteger(hole) && hole >= 1 && hole <= MOST_HOLES);
  return known && numbers.length > 0 ? numbers : null;
}

/** A reed action and what it sounds, in semitones above the key note. */
export interface SoundingAction {
  readonly action: ReedAction;
  readonly sounds: Semitones;
}

/**
 * Every reed action of a layout, hole by hole.
 *
 * The two-reed rule: the higher reed bends down to one semitone above the lower one (Bahnson, Antaki and Beery,
 * JASA 103, 1998); with the draw reed higher an overblow sounds a semitone above the draw reed, with the blow
 * reed higher an overdraw a semitone above the blow reed (harp-l list archive, March 2005, msg 733). A lone reed, two
 * reeds in unison, and the breath of a valved reed only sound plain: the other reed takes no part.
 */
export function reedActions(layout: Layout, abilities: Abilities): readonly SoundingAction[] {
  return layout.holes.flatMap((hole, index) => holeActions(hole, index + 1, abilities));
}

function holeActions(hole: Hole, number: number, abilities: Abilities): readonly SoundingAction[] {
  const found: SoundingAction[] = [];
  for (const breath of ["blow", "draw"] as const) {
    const reed = hole[breath];
    if (reed !== null) found.push(sounding(number, breath, "plain", reed, 0));
  }
  if (hole.blow === null || hole.draw === null || hole.blow === hole.draw) return found;
  const [higher, lower]: [Breath, Breath] = hole.draw > hole.blow ? ["draw", "blow"] : ["blow", "draw"];
  const high = Math.max(hole.blow, hole.draw);
  const low = Math.min(hole.blow, hole.draw);
  const together = (breath: Breath) => !(hole.valved ?? []).includes(breath);
  if (inHole(abilities.bends, number) && together(higher)) {
    for (let bent = 1; high - bent > low; bent++)
      found.push(sounding(number, higher, "bend", high - bent, bent));
  }
  if (inHole(abilities.overbends, number) && together(lower)) {
    found.push(sounding(number, lower, lower === "blow" ? "overblow" : "overdraw", high + 1, 0));
  }
  return found;
}

function sounding(
  hole: number,
  breath: Breath,
  technique: Technique,
  sounds: number,
  bent: number,
): SoundingAction {
  return { action: { hole, breath, technique, bentSemitones: semitones(bent) }, sounds: semitones(sounds) };
}

/** The note a reed action sounds on a harp; null if the harp cannot do it. */
export function actionNote(harp: Harp, action: ReedAction): Midi | null {
  const match = holeReach(harp.layout, action.hole).find((one) => sameAction(one.action, action));
  return match === undefined ? null : midi(harp.keyNote + match.sounds);
}

function holeReach(layout: Layout, hole: number): readonly SoundingAction[] {
  const found = layout.holes[hole - 1];
  return found === undefined ? [] : holeActions(found, hole, EVERYTHING);
}

export function sameAction(one: ReedAction, other: ReedAction): boolean {
  return (
    one.hole === other.hole &&
    one.breath === other.breath &&
    one.technique === other.technique &&
    one.bentSemitones === other.bentSemitones
  );
}

const EASE: Readonly<Record<Technique, number>> = { plain: 0, bend: 1, overblow: 2, overdraw: 2 };

/** Reed actions that sound a note, easiest first: plain before bend before overbend, small bends before deep ones, low holes first. */
export function actionsForNote(harp: Harp, note: Midi, abilities: Abilities): readonly ReedAction[] {
  return reachOf(harp.layout, abilities).get(note - harp.keyNote) ?? [];
}

/** What a layout sounds, semitones above the key note ascending, each with its reed actions, easiest first. */
export type Reach = ReadonlyMap<number, readonly ReedAction[]>;

/** Reaches already worked out, by layout and abilities: both are plain data that never changes. */
const reaches = new WeakMap<Layout, WeakMap<Abilities, Reach>>();

export function reachOf(layout: Layout, abilities: Abilities): Reach {
  const ofLayout = reaches.get(layout) ?? new WeakMap<Abilities, Reach>();
  const known = ofLayout.get(abilities);
  if (known !== undefined) return known;
  const reach = workOutReach(layout, abilities);
  reaches.set(layout, ofLayout.set(abilities, reach));
  return reach;
}

function workOutReach(layout: Layout, abilities: Abilities): Reach {
  const all = [...reedActions(layout, abilities)].sort(
    ({ action: a, sounds: low }, { action: b, sounds: high }) =>
      low - high ||
      EASE[a.technique] - EASE[b.technique] ||
      a.bentSemitones - b.bentSemitones ||
      a.hole - b.hole,
  );
  const reach = new Map<number, ReedAction[]>();
  for (const { action, sounds } of all) {
    const same = reach.get(sounds);
    if (same === undefined) reach.set(sounds, [action]);
    else same.push(action);
  }
  return reach;
}
