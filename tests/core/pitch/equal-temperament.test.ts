import fc from "fast-check";
import { Note } from "tonal";
import { describe, expect, test } from "vitest";
import {
  centsBetween,
  hzToMidi,
  midiToHz,
  referencePitchCents,
} from "../../../core/pitch/equal-temperament.ts";
import { midiOfName } from "../../../core/pitch/note-names.ts";
import { hz, midi } from "../../../core/units.ts";
import { PRINTED_FREQUENCIES } from "../../sources/equal-temperament-table.ts";

describe("equal temperament", () => {
  test.each(PRINTED_FREQUENCIES)("%s sounds at the printed %d Hz", (name, printed) => {
    const note = midiOfName(name);
    expect(note).not.toBeNull();
    // The table prints two decimals.
    expect(midiToHz(note ?? midi(0))).toBeCloseTo(printed, 2);
  });

  test("every note of the sounding range agrees with tonal 6.4.3 [X]", () => {
    for (let note = 48; note <= 103; note++) {
      const theirs = Note.freq(Note.fromMidi(note)) ?? 0;
      expect(Math.abs(1200 * Math.log2(midiToHz(midi(note)) / theirs))).toBeLessThan(0.001);
    }
  });

  test("a reference pitch of 442 Hz lies 7.85 cents above 440", () => {
    // [calc] 1200·log2(442/440) = 7.85, as in the fact sheet, section 3.
    expect(referencePitchCents(hz(442))).toBeCloseTo(7.85, 2);
    expect(referencePitchCents(hz(435))).toBeCloseTo(-19.79, 2);
  });

  test("a frequency of zero is refused, for a missing pitch is null", () => {
    expect(() => hzToMidi(hz(0))).toThrow("above 0 Hz");
  });

  test("going to hertz and back keeps the pitch, at any reference", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 120, noNaN: true }),
        fc.double({ min: 400, max: 480, noNaN: true }),
        (note, a4) => {
          expect(hzToMidi(midiToHz(midi(note), hz(a4)), hz(a4))).toBeCloseTo(note, 9);
        },
      ),
    );
  });

  test("cents add along a chain of notes", () => {
    const note = fc.double({ min: 20, max: 120, noNaN: true });
    fc.assert(
      fc.property(note, note, note, (a, b, c) => {
        const direct = centsBetween(midi(a), midi(c));
        expect(centsBetween(midi(a), midi(b)) + centsBetween(midi(b), midi(c))).toBeCloseTo(direct, 6);
      }),
    );
  });
});
