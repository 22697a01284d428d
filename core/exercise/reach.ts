import { type Position, positionHome, positionHomeName, positionName } from "../instrument/positions.ts";
import { type Abilities, reachOf as layoutReach, type ReedAction } from "../instrument/reed-actions.ts";
import { isSevenDegrees } from "../pitch/degrees.ts";
import { type Degree, degreeOf, isNamed, modeDegrees, spellingOf } from "../pitch/modes.ts";
import { noteName, type PitchClass } from "../pitch/note-names.ts";
import { type Midi, midi } from "../units.ts";
import type { DrillSetting } from "./drill-spec.ts";

/** A note and the reed action that sounds it. */
export interface Step {
  readonly note: Midi;
  readonly action: ReedAction;
}

/** What the player can sound on the harp, and how notes are called in the position and mode. */
export interface Reach {
  readonly setting: DrillSetting;
  readonly position: Position;
  /** Home note without octave. */
  readonly home: string;
  readonly homeClass: PitchClass;
  readonly degrees: readonly Degree[];
  /** A name for each of the twelve notes. */
  readonly spelling: readonly string[];
  /** Lowest and highest plain reed; Infinity and -Infinity on a layout without reeds. */
  readonly lowest: number;
  readonly highest: number;
  /** Every reed action within the player's abilities, with the note it sounds, by note. */
  readonly all: readonly Step[];
  /** The easiest reed action for each note. */
  readonly easiest: ReadonlyMap<number, ReedAction>;
}

/** MIDI has no numbers outside these. */
const LOWEST_MIDI = 0;
const HIGHEST_MIDI = 127;

export function reachOf(setting: DrillSetting): Reach {
  const { harp, position, mode, abilities } = setting;
  const home = positionHomeName(harp, position);
  const all: Step[] = [];
  const easiest = new Map<number, ReedAction>();
  for (const [sounds, actions] of layoutReach(harp.layout, abilities)) {
    const note = noteOn(setting, sounds);
    if (note === null) continue;
    for (const action of actions) all.push({ note, action });
    if (actions[0] !== undefined) easiest.set(note, actions[0]);
  }
  const plain = all.filter((step) => step.action.technique === "plain").map((step) => step.note);
  return {
    setting,
    position,
    home,
    homeClass: positionHome(harp, position),
    degrees: modeDegrees(mode),
    spelling: spellingOf(home, mode),
    lowest: Math.min(...plain),
    highest: Math.max(...plain),
    all,
    easiest,
  };
}

/** The note of so many semitones above the key note; null beyond what MIDI can number. */
function noteOn(setting: DrillSetting, sounds: number): Midi | null {
  const note = setting.harp.keyNote + sounds;
  return note >= LOWEST_MIDI && note <= HIGHEST_MIDI ? midi(note) : null;
}

/** Name with octave, spelled by its degree. */
export function nameOf(reach: Reach, note: Midi): string {
  return noteName(note, reach.spelling);
}

/** Degree of a note against the home note, as the mode names it where it belongs to the mode. */
export function degreeNameOf(reach: Reach, note: Midi): string {
  return degreeOf(note - reach.homeClass, reach.degrees).name;
}

/** "D mixolydian", or "D (1 2 b3 5)". */
export function homeAndMode(reach: Reach): string {
  const { mode } = reach.setting;
  return `${reach.home} ${isNamed(mode) ? mode : `(${mode})`}`;
}

/** Why neither thirds can be stacked nor intervals counted in the mode, or null where it has degrees 1 to 7. */
export function notSeven(reach: Reach): string | null {
  const { degrees } = reach;
  if (isSevenDegrees(degrees)) return null;
  if (degrees.length !== 7)
    return `${homeAndMode(reach)} has ${degrees.length} ${degrees.length === 1 ? "note" : "notes"}`;
  return `${homeAndMode(reach)} does not have each of the degrees 1 to 7`;
}

/** "in 2nd position". */
export const inPosition = (reach: Reach): string => `in ${positionName(reach.position)} position`;

/** What a player would need who cannot sound something: "without bends". */
export function withoutWhat(abilities: Abilities): string {
  const { bends, overbends } = abilities;
  if (bends === false) return "without bends";
  const some = typeof bends === "boolean" ? "" : `with bends in ${holesInWords(bends)} only and `;
  if (overbends === false) return `${some}without overblows`;
  const over = typeof overbends === "boolean" ? "" : ` in ${holesInWords(overbends)}`;
  return `${some}with ${some === "" ? "bends and " : ""}overblows${over}`;
}

const holesInWords = (holes: readonly number[]) =>
  holes.length === 0 ? "no hole" : `${holes.length === 1 ? "hole" : "holes"} ${holes.join(" ")}`;
