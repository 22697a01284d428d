import * as v from "valibot";
import { type MadeExercise, makeScaleDrill, type ScaleDrill } from "../../core/exercise/scale-drill.ts";
import { FASTEST, NOTE_VALUES, type NoteValue, SLOWEST } from "../../core/exercise/tempo.ts";
import { harpInKey, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { naturalMode, type Position } from "../../core/instrument/positions.ts";
import { stockLayout } from "../../core/instrument/stock-layouts.ts";
import { MODE_NAMES, type ModeName } from "../../core/pitch/modes.ts";
import { bpm, hz } from "../../core/units.ts";

/** What a player chooses for a scale drill: plain words and numbers, as they are kept and shown. */
export interface DrillChoice {
  readonly layout: string;
  readonly key: string;
  readonly position: Position;
  readonly mode: ModeName;
  readonly octaves: 1 | 2;
  readonly direction: ScaleDrill["direction"];
  readonly start: ScaleDrill["start"];
  readonly bpm: number;
  readonly noteValue: NoteValue;
  readonly notesPerBeat: 1 | 2 | 3 | 4;
  readonly bends: boolean;
}

export const FIRST_CHOICE: DrillChoice = {
  layout: "standard",
  key: "G",
  position: 2,
  mode: "mixolydian",
  octaves: 1,
  direction: "both",
  start: "easiest",
  bpm: 90,
  noteValue: "1/4",
  notesPerBeat: 1,
  bends: true,
};

export const COUNT_IN_BEATS = 4;

/** A position brings its natural mode with it; the player may then take another. */
export function withPosition(choice: DrillChoice, position: Position): DrillChoice {
  return { ...choice, position, mode: naturalMode(position) ?? choice.mode };
}

/**
 * The exercise of a choice on a harp tuned to `a4Hz`, or why it cannot be played.
 */
export function exerciseOfChoice(choice: DrillChoice, a4Hz: number): MadeExercise {
  const layout = stockLayout(choice.layout);
  const harp = layout === null ? null : harpInKey(layout, choice.key, hz(a4Hz));
  if (harp === null)
    return { kind: "impossible", reason: `there is no ${choice.key} harp with layout ${choice.layout}` };
  return makeScaleDrill({
    harp,
    position: choice.position,
    mode: choice.mode,
    octaves: choice.octaves,
    direction: choice.direction,
    start: choice.start,
    tempo: { bpm: bpm(choice.bpm), noteValue: choice.noteValue },
    notesPerBeat: choice.notesPerBeat,
    countInBeats: COUNT_IN_BEATS,
    abilities: { bends: choice.bends, overbends: false },
  });
}

const choiceShape = v.object({
  layout: v.string(),
  key: v.picklist(KEYS_BY_REGISTER),
  position: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(12)),
  mode: v.picklist(MODE_NAMES),
  octaves: v.picklist([1, 2]),
  direction: v.picklist(["up", "down", "both"]),
  start: v.picklist(["easiest", "lowest"]),
  bpm: v.pipe(v.number(), v.minValue(SLOWEST), v.maxValue(FASTEST)),
  noteValue: v.picklist(NOTE_VALUES),
  notesPerBeat: v.picklist([1, 2, 3, 4]),
  bends: v.boolean(),
});

/** The choice kept from the last visit, or the first one where nothing usable was kept. */
export function choiceOfSettings(kept: Readonly<Record<string, unknown>> | null): DrillChoice {
  const read = v.safeParse(choiceShape, kept);
  return read.success ? read.output : FIRST_CHOICE;
}
