import { midiToHz } from "../pitch/equal-temperament.ts";
import { pitchClass } from "../pitch/note-names.ts";
import { type Cents, cents, type Hz, midi, type Semitones } from "../units.ts";
import type { Harp } from "./harp.ts";
import { type Reed, reedsOf } from "./layout.ts";
import { actionNote, type ReedAction } from "./reed-actions.ts";
import { EQUAL, ownCents, temperedCents } from "./temperament.ts";

/**
 * Where a reed action should sound, in cents from the equal-tempered note on the harp's own A4.
 *
 * A plain reed sounds what it is tuned to. A bend or overbend is tuned by the player, in two steps:
 * 1. If the harp has the same note name as a plain reed, in any octave, the bend agrees with that reed, so that unisons
 *    and octaves do not beat. With a player's own cents it is the reed nearest in pitch, the lower of two equally near.
 * 2. Otherwise the bend takes the scheme of the home key: its interval above the home note has the scheme's ratio, counted
 *    from the home note as the harp has it. In 2nd position on a just C harp B flat is a just minor third above G. A scale
 *    from a file stays on the key note it was made for, and beside a player's own cents intervals above home are equal.
 *
 * @param home the home note, semitones above the key note; the key note itself unless told
 * @throws RangeError if the harp cannot do the action
 */
export function targetCents(harp: Harp, action: ReedAction, home: number = 0): Cents {
  const note = actionNote(harp, action);
  if (note === null) throw new RangeError(`hole ${action.hole} ${action.technique}: not on this harp`);
  const sounds = note - harp.keyNote;
  const { temperament = EQUAL } = harp;
  if (action.technique === "plain") {
    return temperament.kind === "reeds"
      ? ownCents(temperament, action.hole, action.breath)
      : temperedCents(temperament, sounds);
  }
  const matching = nearestReed(harp, sounds);
  if (matching !== null) return reedCents(harp, matching, sounds);
  if (temperament.kind === "equal" || temperament.kind === "scale") return temperedCents(temperament, sounds);
  const homeReed = nearestReed(harp, home);
  const homeCents = homeReed === null ? temperedCents(temperament, home) : reedCents(harp, homeReed, home);
  return cents(homeCents + temperedCents(temperament, sounds - home));
}

/** Frequency a reed action should sound at. @throws RangeError if the harp cannot do the action */
export function targetHzOf(harp: Harp, action: ReedAction, home: number = 0): Hz {
  const note = actionNote(harp, action);
  if (note === null) throw new RangeError(`hole ${action.hole} ${action.technique}: not on this harp`);
  return midiToHz(midi(note + targetCents(harp, action, home) / 100), harp.a4);
}

/** What a reed of the same name gives a note: its own cents, or the temperament's in the note's octave. */
function reedCents(harp: Harp, reed: Reed, sounds: number): Cents {
  const { temperament = EQUAL } = harp;
  return temperament.kind === "reeds"
    ? ownCents(temperament, reed.hole, reed.breath)
    : temperedCents(temperament, sounds);
}

/** The plain reed with the name of a note, nearest to it in pitch, the lower of two equally near; null if there is none. */
function nearestReed(harp: Harp, sounds: number): Reed | null {
  const distance = (from: Semitones) => Math.abs(from - sounds);
  return reedsOf(harp.layout)
    .filter((reed) => pitchClass(reed.sounds) === pitchClass(sounds))
    .reduce<Reed | null>((best, reed) => {
      if (best === null || distance(reed.sounds) < distance(best.sounds)) return reed;
      return distance(reed.sounds) === distance(best.sounds) && reed.sounds < best.sounds ? reed : best;
    }, null);
}
