import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { DrillSpec } from "../../../core/exercise/drill-spec.ts";
import type { ExpectedNote } from "../../../core/exercise/exercise.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { harpInKey, KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { anyDrill, DRILL_KINDS } from "./any-drill.ts";

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
    let made = 0;
    fc.assert(
      fc.property(anyDrill(kind), fc.constantFrom(...KEYS_BY_REGISTER), (spec, key) => {
        const [here, there] = [makeDrill(spec), makeDrill(inKey(spec, key))];
        expect(there.kind).toBe(here.kind);
        if (here.kind === "impossible" || there.kind === "impossible") return;
        made++;
        const shift = there.exercise.harp.keyNote - here.exercise.harp.keyNote;
        expect(there.exercise.notes.map((note) => moved(note, 0))).toEqual(
          here.exercise.notes.map((note) => moved(note, shift)),
        );
        expect(there.exercise.parameters).toEqual(here.exercise.parameters);
      }),
      { numRuns: 300 },
    );
    expect(made).toBeGreaterThan(5);
  });
});
