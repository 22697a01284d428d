import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { DrillSpec } from "../../../core/exercise/drill-spec.ts";
import type { ExpectedNote } from "../../../core/exercise/exercise.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { harpInKey, KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { anyDrill, DRILL_KINDS } from "./any-drill.ts";
import { overMadeDrills } from "./over-drills.ts";

/** The same drill on the same harp in another key. */
function inKey(spec: DrillSpec, key: string): DrillSpec {
  const other = harpInKey(spec.harp.layout, key);
  if (other === null) throw new Error(`"${key}" is a key`);
  return { ...spec, harp: { ...spec.harp, key: other.key, keyNote: other.keyNote } };
}

/** A note so many semitones higher, without the names that change with the key. */
function moved({ chord, ...note }: ExpectedNote, shift: number) {
  const besides = chord?.besides.map((reed) => ({ ...reed, midi: reed.midi + shift, noteName: "" }));
  return { ...note, midi: note.midi + shift, noteName: "", lacks: chord?.lacks, besides };
}

describe.each(DRILL_KINDS)("a %s drill on a harp in another key", (kind) => {
  test("is the same drill transposed: the same tab, degrees, times and cents, every note as much higher", () => {
    overMadeDrills(kind, 30, (here, spec) => {
      for (const key of KEYS_BY_REGISTER) {
        const there = makeDrill(inKey(spec, key));
        if (there.kind === "impossible") throw new Error(`not in ${key}: ${there.reason}`);
        const shift = there.exercise.harp.keyNote - here.harp.keyNote;
        expect(there.exercise.notes.map((note) => moved(note, 0))).toEqual(
          here.notes.map((note) => moved(note, shift)),
        );
        expect(there.exercise.parameters).toEqual(here.parameters);
      }
    });
  });

  test("is as impossible as in this one", () => {
    fc.assert(
      fc.property(anyDrill(kind), fc.constantFrom(...KEYS_BY_REGISTER), (spec, key) => {
        expect(makeDrill(inKey(spec, key)).kind).toBe(makeDrill(spec).kind);
      }),
    );
  });
});
