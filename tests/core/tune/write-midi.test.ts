import tonejs from "@tonejs/midi";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { keyOfFifths } from "../../../core/tune/key-signature.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../../core/tune/tune.ts";
import { writeMidi } from "../../../core/tune/write-midi.ts";
import { bpm } from "../../../core/units.ts";
import { anyTune, notesOf, tuneOf } from "../../support/any-tune.ts";

const reel = tuneOf([{ notes: notesOf(["D4", 4], ["F#4", 2], ["A4", 2]), repeatFrom: 2, repeatTo: 2 }], {
  key: keyOfFifths(2, "major", true),
});

/** Another reader's view of the file: @tonejs/midi 2.0.28. */
const heard = (tune: Tune, format: 0 | 1 = 1) => new tonejs.Midi(writeMidi(tune, { format }));

/** Onset and length in semibreves, and pitch; lowest first where several begin together. */
function heardNotes(midi: InstanceType<typeof tonejs.Midi>) {
  const whole = midi.header.ppq * 4;
  return midi.tracks
    .flatMap((track) => track.notes)
    .map(({ ticks, durationTicks, midi: pitch }) => [ticks / whole, durationTicks / whole, pitch] as const)
    .sort(([at, , low], [other, , high]) => at - other || low - high);
}

function writtenNotes(tune: Tune) {
  return tune.notes.flatMap(({ startTicks, lengthTicks, midi, chord = [] }) =>
    [...new Set([...chord, midi])].map(
      (pitch) => [startTicks / TICKS_PER_SEMIBREVE, lengthTicks / TICKS_PER_SEMIBREVE, pitch] as const,
    ),
  );
}

describe("a tune written as MIDI", () => {
  test("plays repeats out", () => {
    // [calc] D4 = 62, F#4 = 66, A4 = 69; a minim, two crotchets, twice.
    expect(heardNotes(heard(reel))).toEqual([
      [0, 0.5, 62],
      [0.5, 0.25, 66],
      [0.75, 0.25, 69],
      [1, 0.5, 62],
      [1.5, 0.25, 66],
      [1.75, 0.25, 69],
    ]);
  });

  test("sounds as a harmonica, program 22 counted from 0", () => {
    // [F82] General MIDI program 23 counted from 1.
    expect(heard(reel).tracks.at(-1)?.instrument.number).toBe(22);
  });

  test("has one track in format 0, and tempo and key in a track of their own in format 1", () => {
    expect(writeMidi(reel, { format: 0 }).subarray(8, 12)).toEqual(new Uint8Array([0, 0, 0, 1]));
    expect(writeMidi(reel, { format: 1 }).subarray(8, 12)).toEqual(new Uint8Array([0, 1, 0, 2]));
    expect(heardNotes(heard(reel, 0))).toEqual(heardNotes(heard(reel, 1)));
  });

  test("counts its tempo in crotchets whatever the dance counts", () => {
    const jig = tuneOf([{ notes: notesOf(["D4", 6]), lengthTicks: (TICKS_PER_SEMIBREVE * 6) / 8 }], {
      metre: { beats: 6, unit: 8 },
      tempo: { noteValue: "3/8", bpm: bpm(120) },
    });
    // [calc] 120 dotted crotchets a minute are 180 crotchets.
    expect(heard(jig).header.tempos.map((one) => Math.round(one.bpm * 100) / 100)).toEqual([180]);
    expect(heard(jig).header.timeSignatures.map((one) => one.timeSignature)).toEqual([[6, 8]]);
  });

  test("has the signature of its key, and minor where it is", () => {
    const inKey = (mode: "dorian" | "minor") =>
      tuneOf([{ notes: notesOf(["A4", 8]) }], { key: keyOfFifths(1, mode, true) });
    // [calc] One sharp in both. @tonejs/midi calls a signature by its major; only E minor is also said to be minor.
    expect(heard(inKey("dorian")).header.keySignatures).toMatchObject([{ key: "G", scale: "major" }]);
    expect(heard(inKey("minor")).header.keySignatures).toMatchObject([{ key: "G", scale: "minor" }]);
  });

  test("gives an upbeat a time signature of its length, so that bar lines stay", () => {
    const tune = tuneOf([
      { notes: notesOf(["A4", 1]), lengthTicks: TICKS_PER_SEMIBREVE / 8 },
      { notes: notesOf(["D5", 8]) },
    ]);
    expect(
      heard(tune).header.timeSignatures.map((one) => [one.ticks / heard(tune).header.ppq, one.timeSignature]),
    ).toEqual([
      [0, [1, 8]],
      // [calc] A quaver is half a crotchet.
      [0.5, [4, 4]],
    ]);
  });

  test("carries title and copyright in any script", () => {
    const midi = heard({
      ...reel,
      title: "Tanz – ダンス",
      fields: [{ kind: "copyright", text: "the band" }],
    });
    expect(new TextDecoder().decode(Uint8Array.from(midi.name, (letter) => letter.charCodeAt(0)))).toBe(
      "Tanz – ダンス",
    );
  });

  test("refuses a program MIDI does not have", () => {
    expect(() => writeMidi(reel, { program: 128 })).toThrow("program is 128; MIDI has 0 to 127");
  });

  test("gives another reader every note of any tune: onset, length and pitch exactly", () => {
    fc.assert(
      fc.property(anyTune, fc.constantFrom(0 as const, 1 as const), (tune, format) => {
        expect(heardNotes(heard(tune, format))).toEqual(
          [...writtenNotes(tune)].sort(([at, , low], [other, , high]) => at - other || low - high),
        );
      }),
      { numRuns: 60 },
    );
  });
});
