import type { Harp } from "../../instrument/harp.ts";
import { reedsOf } from "../../instrument/layout.ts";
import { type Degree, degreeOf, degreeOfName } from "../../pitch/degrees.ts";
import { modeDegrees, SEVEN_MODES } from "../../pitch/modes.ts";
import { namer, pitchClass } from "../../pitch/note-names.ts";
import { spellDegree } from "../../pitch/spelling.ts";
import type { Midi } from "../../units.ts";

/**
 * Names of a harp's reeds as its layout asks for them: by the one of the seven modes on its key that holds most of its notes,
 * so that a minor harp on C has Eb and one with raised fourths F#. A note between is spelled by its usual degree, the
 * tritone as a raised fourth.
 */
export function reedNamer(harp: Harp): (note: Midi) => string {
  const sounded = new Set(reedsOf(harp.layout).map(({ sounds }) => pitchClass(sounds)));
  const held = (degrees: readonly Degree[]) =>
    degrees.filter(({ aboveHome }) => sounded.has(pitchClass(aboveHome))).length;
  const degrees = SEVEN_MODES.map(modeDegrees).reduce((best, next) =>
    held(next) > held(best) ? next : best,
  );
  return namer(Array.from({ length: 12 }, (_, step) => spellDegree(harp.key, degreeIn(step, degrees))));
}

function degreeIn(step: number, degrees: readonly Degree[]): Degree {
  const usual = degreeOf(step, degrees);
  return usual.name === "b5" && !degrees.includes(usual) ? (degreeOfName("#4") ?? usual) : usual;
}
