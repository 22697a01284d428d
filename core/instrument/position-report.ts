import { MODE_NAMES, type ModeName, modeDegrees } from "../pitch/modes.ts";
import { type PitchClass, pitchClass } from "../pitch/note-names.ts";
import { type Midi, midi } from "../units.ts";
import type { Harp } from "./harp.ts";
import { reedsOf } from "./layout.ts";
import { POSITIONS, type Position, positionHome, positionHomeName } from "./positions.ts";
import { type Abilities, EVERYTHING, type ReedAction, reachOf } from "./reed-actions.ts";
import { type FoundDegree, modeOn, plainOctaves, type ScaleReport, scaleReport } from "./scale-report.ts";

/** Where a home note is found. */
export interface HomeReed {
  readonly note: Midi;
  readonly action: ReedAction;
}

/** One of the twelve positions of a harp. */
export interface PositionReport {
  readonly position: Position;
  readonly home: PitchClass;
  readonly homeName: string;
  /** Lowest first: each plain reed of the home note; where a home note has none, the easiest way to it. */
  readonly homeReeds: readonly HomeReed[];
  /** The mode the plain reeds give here, or null; see `naturalModeOf`. */
  readonly naturalMode: ModeName | null;
  /** Notes of the natural mode, between the harp's ends, that no plain reed has. */
  readonly notPlain: readonly FoundDegree[];
  readonly modes: readonly ModeReport[];
}

export interface ModeReport extends ScaleReport {
  readonly mode: ModeName;
}

/** All twelve positions. @param modes those to report on in each; every mode unless told */
export function positionReports(
  harp: Harp,
  abilities: Abilities = EVERYTHING,
  modes: readonly ModeName[] = MODE_NAMES,
): readonly PositionReport[] {
  return POSITIONS.map((position) => positionReport(harp, position, abilities, modes));
}

/** One position: where its home note lies, and what each mode has there. */
export function positionReport(
  harp: Harp,
  position: Position,
  abilities: Abilities = EVERYTHING,
  modes: readonly ModeName[] = MODE_NAMES,
): PositionReport {
  const home = positionHome(harp, position);
  const homeName = positionHomeName(harp, position);
  const report = (mode: ModeName) => scaleReport(harp, modeOn(home, mode, homeName), abilities);
  const naturalMode = naturalModeOf(harp, position);
  return {
    position,
    home,
    homeName,
    homeReeds: homeReeds(harp, home, abilities),
    naturalMode,
    notPlain: naturalMode === null ? [] : notPlain(harp, report(naturalMode)),
    modes: modes.map((mode) => ({ mode, ...report(mode) })),
  };
}

function notPlain(harp: Harp, report: ScaleReport): readonly FoundDegree[] {
  const reeds = reedsOf(harp.layout).map((reed) => harp.keyNote + reed.sounds);
  const within = (note: number) => note > Math.min(...reeds) && note < Math.max(...reeds);
  return report.octaves.flat().filter((one) => one.means !== "plain" && within(one.note));
}

function homeReeds(harp: Harp, home: PitchClass, abilities: Abilities): readonly HomeReed[] {
  return [...reachOf(harp.layout, abilities)]
    .filter(([sounds]) => pitchClass(harp.keyNote + sounds) === home)
    .flatMap(([sounds, ways]) => {
      const plain = ways.filter((action) => action.technique === "plain");
      const note = midi(harp.keyNote + sounds);
      return (plain.length > 0 ? plain : ways.slice(0, 1)).map((action) => ({ note, action }));
    });
}

/** Modes of at least seven notes, which a harp's reeds can be said to be tuned to. */
const WHOLE_MODES = MODE_NAMES.filter((mode) => modeDegrees(mode).length === 7);

/**
 * The mode a position has in plain notes on any layout: the one with exactly the note names of the reeds; failing that,
 * the one with the most plain octaves, in the order of MODE_NAMES; null where the home note has no plain reed or no octave
 * is whole. On the standard layout the same as `naturalMode`.
 */
export function naturalModeOf(harp: Harp, position: Position): ModeName | null {
  const home = positionHome(harp, position);
  const present = new Set(reedsOf(harp.layout).map((reed) => pitchClass(harp.keyNote + reed.sounds - home)));
  if (!present.has(0)) return null;
  const exact = WHOLE_MODES.find(
    (mode) => present.size === 7 && modeDegrees(mode).every((degree) => present.has(degree.aboveHome)),
  );
  if (exact !== undefined) return exact;
  const octaves = WHOLE_MODES.map((mode) => ({
    mode,
    whole: plainOctaves(harp, { home, degrees: modeDegrees(mode) }),
  }));
  const best = octaves.reduce((a, b) => (b.whole > a.whole ? b : a));
  return best.whole > 0 ? best.mode : null;
}
