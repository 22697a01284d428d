import type { Harp } from "../../instrument/harp.ts";
import { reedsOf } from "../../instrument/layout.ts";
import { EVERYTHING, type ReedAction, reedActions } from "../../instrument/reed-actions.ts";
import { targetHzOf } from "../../instrument/target-cents.ts";
import { hzToMidi } from "../../pitch/equal-temperament.ts";
import { type Midi, semitones } from "../../units.ts";
import type { ReedPlace } from "./reed-reading.ts";

/** Everything a harp can sound with the pitch it should have, fractional, A4 = 440 Hz. */
export interface HarpSound {
  readonly action: ReedAction;
  readonly midi: Midi;
}

/** Every reed action of a harp, bends and overbends too, as it is meant to be tuned. */
export function harpSounds(harp: Harp): readonly HarpSound[] {
  return reedActions(harp.layout, EVERYTHING).map(({ action }) => ({
    action,
    midi: hzToMidi(targetHzOf(harp, action)),
  }));
}

/** Every reed of a harp, hole by hole, blow before draw. */
export function placesOf(harp: Harp): readonly ReedPlace[] {
  return reedsOf(harp.layout).map(({ hole, breath }) => ({ hole, breath }));
}

/** The plain note of a reed. */
export const plainAction = ({ hole, breath }: ReedPlace): ReedAction => ({
  hole,
  breath,
  technique: "plain",
  bentSemitones: semitones(0),
});

/** What a reed should sound, fractional, A4 = 440 Hz. @throws RangeError where the harp has no such reed */
export const targetMidiOf = (harp: Harp, place: ReedPlace): Midi =>
  hzToMidi(targetHzOf(harp, plainAction(place)));
