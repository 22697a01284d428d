import fc from "fast-check";
import type { Random } from "../../../core/exercise/seeded-random.ts";
import * as midi from "../../support/midi-file.ts";
import { drawn, HOSTILE_WORDS } from "./chance.ts";

const byte = fc.nat(255);
const ticks = fc.oneof(fc.nat(2000), fc.nat(16_383), fc.constant(0));

/** Events of a track: notes that hold, overlap or never end, signs in odd places, texts of any kind. */
const event = fc.oneof(
  {
    weight: 8,
    arbitrary: fc
      .tuple(fc.nat(127), ticks, ticks, fc.nat(15))
      .map(([note, long, after, on]) => midi.note(note, long, after, on)),
  },
  fc
    .tuple(ticks, fc.nat(127), fc.nat(127))
    .map(([after, note, loud]) => [...midi.lengthOf(after), 0x90, note, loud]),
  fc.tuple(ticks, fc.nat(127)).map(([after, note]) => [...midi.lengthOf(after), 0x80, note, 0]),
  fc.nat(0xff_ffff).map(midi.tempo),
  fc.tuple(byte, fc.nat(8), ticks).map(([beats, power, after]) => midi.metre(beats, power, after)),
  fc
    .tuple(fc.integer({ min: -8, max: 8 }), fc.constantFrom(0 as const, 1 as const))
    .map(([fifths, minor]) => midi.key(fifths, minor)),
  fc
    .tuple(
      fc.nat(9),
      fc.constantFrom(
        ...HOSTILE_WORDS.filter(
          (words) => words.length < 100 && [...words].every((letter) => letter.charCodeAt(0) < 256),
        ),
      ),
    )
    .map(([type, words]) => midi.text(type, words)),
  fc
    .tuple(fc.constantFrom(0xa0, 0xb0, 0xc0, 0xd0, 0xe0, 0xf0, 0xf7, 0xff), fc.array(byte, { maxLength: 4 }))
    .map(([status, rest]) => [0, status, ...rest]),
);

const file = fc
  .record({
    tracks: fc.array(fc.tuple(fc.array(event, { maxLength: 60 }), fc.boolean()), {
      minLength: 0,
      maxLength: 4,
    }),
    format: fc.constantFrom(0, 1, 1, 1, 2, 255),
    division: fc.oneof(fc.constantFrom(1, 24, 96, 480, 960), fc.nat(0xffff)),
  })
  .map(({ tracks, format, division }) =>
    midi.midiFile(
      tracks.map(([events, ends]) => [...events.flat(), ...(ends ? midi.END : [])]),
      format,
      division,
    ),
  );

/** A MIDI file of events of chance. */
export const madeMidi = (random: Random): Uint8Array => drawn(random, file);
