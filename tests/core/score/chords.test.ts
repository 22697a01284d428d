import { describe, expect, test } from "vitest";
import type { HeardNote } from "../../../core/listen/listening.ts";
import { chordAround } from "../../../core/score/chords.ts";
import { midi } from "../../../core/units.ts";
import { sounded } from "../../support/players.ts";

/** A sound of 0.1 s, number `at` of a row without gaps. */
function part(
  at: number,
  pitch: number | null,
  leak: { pitch: number; levelDb: number } | null = null,
): HeardNote {
  const note = sounded(0.1 * at, 0.1, pitch);
  return { ...note, leak: leak && { pitchMidi: midi(leak.pitch), levelDb: leak.levelDb } };
}

const free = (length: number) => (place: number) => place >= 0 && place < length;

describe("two holes so alike that they are heard in turn", () => {
  test("are one chord from the first of them on, parts too short to read among them", () => {
    const notes = [part(0, 66), part(1, null), part(2, 66, { pitch: 61, levelDb: -2 }), part(3, 61)];
    expect(chordAround(notes, 3, free(4))).toEqual({ from: 0, to: 3 });
  });

  test("are none where the one only leaks faintly into the other", () => {
    const notes = [part(0, 66, { pitch: 61, levelDb: -12 }), part(1, 61)];
    expect(chordAround(notes, 1, free(2))).toEqual({ from: 1, to: 1 });
  });

  test("end where a sound answers another note", () => {
    const notes = [part(0, 66, { pitch: 61, levelDb: -2 }), part(1, 61)];
    expect(chordAround(notes, 1, () => false)).toEqual({ from: 1, to: 1 });
  });
});
