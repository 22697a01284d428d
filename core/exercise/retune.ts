import type { Harp } from "../instrument/harp.ts";
import { positionHome } from "../instrument/positions.ts";
import { offsetsCountedAnew } from "../instrument/reed-offsets.ts";
import { targetCents } from "../instrument/target-cents.ts";
import { EQUAL, type Temperament } from "../instrument/temperament.ts";
import { pitchClass } from "../pitch/note-names.ts";
import { cents, type Hz } from "../units.ts";
import type { Exercise, ExpectedChord } from "./exercise.ts";

/** How a harp is taken to be tuned. */
export interface Tuning {
  readonly a4: Hz;
  readonly temperament: Temperament;
}

export function tuningOf({ harp }: Exercise): Tuning {
  return { a4: harp.a4, temperament: harp.temperament ?? EQUAL };
}

/**
 * The same notes with their targets on a harp tuned otherwise. The targets of an exercise whose temperament stays are
 * not worked out anew: a file may have its own.
 *
 * A measured reed stays where it sounds: what it lies off by is counted from its new target.
 */
export function retune(exercise: Exercise, tuning: Tuning): Exercise {
  const before = exercise.harp;
  const sameScheme = JSON.stringify(before.temperament ?? EQUAL) === JSON.stringify(tuning.temperament);
  if (sameScheme && before.a4 === tuning.a4) return exercise;
  const tuned = withTuning(before, tuning);
  const harp =
    before.reedOffsets === undefined ? tuned : { ...tuned, reedOffsets: offsetsCountedAnew(before, tuned) };
  const home = pitchClass(positionHome(harp, exercise.position) - harp.keyNote);
  const notes = sameScheme
    ? exercise.notes
    : exercise.notes.map((note) => ({
        ...note,
        // Adding 0 turns -0 into 0: JSON has only one of them.
        targetCents: cents(targetCents(harp, note.action, home) + 0),
        ...(note.chord === undefined ? {} : { chord: retunedChord(harp, note.chord, home) }),
      }));
  return { ...exercise, harp, notes };
}

function retunedChord(harp: Harp, chord: ExpectedChord, home: number): ExpectedChord {
  const besides = chord.besides.map((reed) => ({
    ...reed,
    targetCents: cents(targetCents(harp, reed.action, home) + 0),
  }));
  return { ...chord, besides };
}

/** An equal harp says nothing of its temperament, as one that was never tuned otherwise. */
function withTuning({ temperament: _, ...harp }: Harp, { a4, temperament }: Tuning): Harp {
  const isEqual = temperament.kind === "equal" && (temperament.stretchCentsPerOctave ?? 0) === 0;
  return isEqual ? { ...harp, a4 } : { ...harp, a4, temperament };
}
