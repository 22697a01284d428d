import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type MidiChoices, midiTracks, type ReadMidi, readMidi } from "../../../core/tune/read-midi.ts";
import { semibreves } from "../../../core/tune/tempo.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../../core/tune/tune.ts";
import { writeMidi } from "../../../core/tune/write-midi.ts";
import { anyPlainTune, musicOf, notesOf, tuneOf as tuneOfBars } from "../../support/any-tune.ts";
import { END, key, metre, midiFile, note, tempo, text } from "../../support/midi-file.ts";

const QUAVER = TICKS_PER_SEMIBREVE / 8;
/** Ticks of a file of 480 to the crotchet. */
const crotchet = 480;
const quaver = 240;

function read(
  bytes: Uint8Array,
  choices?: MidiChoices,
): Extract<ReadMidi, { kind: "tunes" }> & { readonly tune: Tune } {
  const all = readMidi(bytes, choices);
  if (all.kind === "unreadable") throw new Error(all.reason);
  const [tune] = all.tunes;
  if (tune === undefined) throw new Error("no tune");
  return { ...all, tune };
}

/** Pitch, onset and length in quavers. */
const line = ({ tune }: { readonly tune: Tune }) =>
  tune.notes.map((one) => [one.midi, one.startTicks / QUAVER, one.lengthTicks / QUAVER] as const);
const speed = ({ tempo: { bpm, noteValue } }: Tune) => bpm * semibreves(noteValue);
const words = ({ tune }: { readonly tune: Tune }) => tune.remarks.map((one) => one.words);
const lone = (...events: readonly number[][]) => midiFile([[...events.flat(), ...END]], 0);

describe("notes of a MIDI file", () => {
  test("are in quavers what their ticks are of a crotchet", () => {
    // [calc] 480 ticks a crotchet: 240 are a quaver.
    expect(line(read(lone(note(62, crotchet), note(66, quaver), note(69, quaver, quaver))))).toEqual([
      [62, 0, 2],
      [66, 2, 1],
      [69, 4, 1],
    ]);
  });

  test("go on with the running status over a text, as some files have it", () => {
    const over = [0, 0x90, 62, 80, ...text(1, "x"), 0x83, 0x60, 62, 0, 0, 66, 80, 0x83, 0x60, 66, 0];
    expect(line(read(lone(over))).map(([pitch]) => pitch)).toEqual([62, 66]);
  });

  test("may be written with running status and velocity 0", () => {
    // SMF 1.0: a status byte is left out where it repeats; a note on of velocity 0 ends the note.
    const running = [0, 0x90, 62, 80, 0x83, 0x60, 62, 0, 0, 66, 80, 0x83, 0x60, 66, 0];
    // [calc] 0x83 0x60 is 3 · 128 + 96 = 480 ticks.
    expect(line(read(lone(running)))).toEqual([
      [62, 0, 2],
      [66, 2, 2],
    ]);
  });

  test("that begin together are a chord under the highest", () => {
    const chord = [
      0, 0x90, 62, 80, 0, 0x90, 69, 80, 0, 0x90, 66, 80, 0x83, 0x60, 0x80, 62, 0, 0, 0x80, 66, 0, 0, 0x80, 69,
      0,
    ];
    const [only] = read(lone(chord)).tune.notes;
    expect([only?.midi, only?.chord]).toEqual([69, [62, 66]]);
  });

  test("that are rolled a little are one chord; as near but one after another they are two", () => {
    // [calc] At 120 a minute 40 ticks of 480 are 42 ms.
    const rolled = [0, 0x90, 62, 80, 40, 0x90, 69, 80, 0x83, 0x38, 0x80, 62, 0, 0, 0x80, 69, 0];
    expect(read(lone(rolled)).tune.notes.map((one) => [one.midi, one.chord])).toEqual([[69, [62]]]);
    expect(read(lone(tempo(250_000), note(62, 80), note(64, 80), note(66, 80))).tune.notes).toHaveLength(3);
  });

  test("held over the next are cut where it begins", () => {
    // [calc] On for 600 ticks; the next begins after 480.
    const legato = [0, 0x90, 62, 80, 0x83, 0x60, 0x90, 66, 80, 120, 0x80, 62, 0, 0x82, 0x68, 0x80, 66, 0];
    expect(line(read(lone(legato)))).toEqual([
      [62, 0, 2],
      [66, 2, 2],
    ]);
  });

  test("lower ones under a held note are accompaniment", () => {
    // A minim of 74 over two crotchets: the second begins under it.
    const held = [
      0, 0x90, 74, 80, 0, 0x90, 57, 80, 0x83, 0x60, 0x80, 57, 0, 0, 0x90, 60, 80, 0x83, 0x60, 0x80, 60, 0, 0,
      0x80, 74, 0,
    ];
    const all = read(lone(held));
    expect(line(all)).toEqual([[74, 0, 4]]);
    expect(words(all)).toContain("1 lower notes that sound under the melody are left out");
  });

  test("struck again before they end are two", () => {
    const again = [0, 0x90, 62, 80, 0x83, 0x60, 0x90, 62, 80, 0x83, 0x60, 0x80, 62, 0];
    expect(line(read(lone(again)))).toEqual([
      [62, 0, 2],
      [62, 2, 2],
    ]);
  });

  test("that never end are held to the end of the track, and it is said", () => {
    const all = read(lone([0, 0x90, 62, 80], [0x83, 0x60, 0xff, 0x01, 0]));
    expect(line(all)).toEqual([[62, 0, 2]]);
    expect(words(all).at(-1)).toMatch(/^1 notes never end in the file/);
  });
});

describe("the grid", () => {
  /** Ticks of each note's beginning and end. */
  const played = (...notes: readonly (readonly [from: number, to: number])[]) => {
    let now = 0;
    return notes.flatMap(([from, to]) => {
      const event = note(62, to - from, from - now);
      now = to;
      return event;
    });
  };

  test("takes a player's unsteadiness away and tells how much", () => {
    // [calc] At 120 a minute a tick is 500/480 ms: 12 ticks late are 12.5 ms, to be written 12.5 ms earlier.
    const all = read(lone(played([0, 200], [252, 400], [470, 700])));
    expect(line(all)).toEqual([
      [62, 0, 1],
      [62, 1, 1],
      [62, 2, 1],
    ]);
    expect(all.quantised).toEqual({ grid: "1/16", shifts: [0, -12.5, 10.4], largestShift: 12.5 });
    expect(words(all)).toContain("the notes are laid on a grid of 1/16, by at most 12.5 ms");
  });

  test("hears triplets beside quavers, wherever they begin", () => {
    // [calc] 240 · 2/3 = 160 ticks each; the triplet begins on the second quaver.
    const all = read(lone(played([0, 240], [240, 400], [400, 560], [560, 720], [720, 960])));
    expect(line(all).map(([, start]) => start)).toEqual([0, 1, 5 / 3, 7 / 3, 3]);
    expect(all.quantised.grid).toBe("1/12, 1/16 for 2 notes");
  });

  test("can be asked for", () => {
    const fine = played([0, 60], [60, 120], [120, 480]);
    // [calc] A demisemiquaver is 60 ticks.
    expect(line(read(lone(fine), { grid: "1/32" })).map(([, start]) => start)).toEqual([0, 0.25, 0.5]);
    expect(read(lone(fine), { grid: "1/32" }).quantised).toMatchObject({ grid: "1/32", largestShift: 0 });
    expect(line(read(lone(played([0, 250], [250, 480])), { grid: "1/8" })).map(([, start]) => start)).toEqual(
      [0, 1],
    );
  });

  test("keeps a rest that is exactly on it, and no gap of detached playing", () => {
    expect(line(read(lone(played([0, 240], [480, 960]))))[0]).toEqual([62, 0, 1]);
    expect(line(read(lone(played([0, 340], [480, 960]))))[0]).toEqual([62, 0, 2]);
  });

  test("makes a note that falls together with the next its grace note", () => {
    // [calc] 60 ticks at 40 crotchets a minute are 188 ms: no chord, but not half a semiquaver before the next either.
    const all = read(lone(tempo(1_500_000), played([420, 470]), note(66, 470, 10)), { grid: "1/16" });
    expect(
      all.tune.notes.map((one) => [one.midi, one.ornaments[0]?.notes.map((grace) => grace.midi)]),
    ).toEqual([[66, [62]]]);
  });
});

describe("bars, key and tempo", () => {
  const jig = [...metre(6, 3), ...tempo(344_828)];

  test("come from time signatures and tempo, told in the beat of the metre", () => {
    const all = read(lone(jig, note(69, 3 * crotchet)));
    expect(all.tune.metre).toEqual({ beats: 6, unit: 8 });
    // [calc] 60,000,000 / 344,828 = 174 crotchets, 116 dotted ones.
    expect(all.tune.tempo).toEqual({ noteValue: "3/8", bpm: 116 });
  });

  test("without a time signature are of 4/4, and it is said", () => {
    expect(words(read(lone(note(69, crotchet))))).toContain("the file has no time signature: 4/4 is taken");
  });

  test("a signature for the upbeat alone makes it one", () => {
    const all = read(lone(metre(1, 3), note(69, quaver), metre(6, 3), note(71, 3 * crotchet)));
    expect(all.tune.bars.map((bar) => [bar.kind, bar.lengthTicks / QUAVER])).toEqual([
      ["pick-up", 1],
      ["whole", 6],
    ]);
  });

  test("an upbeat the file does not mark can be told", () => {
    const all = read(lone(metre(6, 3), note(69, quaver), note(71, 3 * crotchet)), { upbeatCrotchets: 0.5 });
    expect(all.tune.bars.map((bar) => bar.kind)).toEqual(["pick-up", "whole"]);
  });

  test("empty bars before the first note are left out", () => {
    expect(line(read(lone(note(69, crotchet, 4 * crotchet))))).toEqual([[69, 0, 2]]);
  });

  test("the mode is never sure: a file has only major and minor", () => {
    const all = read(lone(key(1, 0), note(67, crotchet), note(69, crotchet)));
    expect(all.tune.key).toMatchObject({ tonic: "G", mode: "major", sure: false });
    // [calc] One sharp and A at the end: A dorian.
    expect(words(all)).toContain("the key is G major by the file; it ends as A dorian would");
    expect(read(lone(key(1, 1), note(64, crotchet))).tune.key).toMatchObject({
      tonic: "E",
      mode: "minor",
      sure: false,
    });
  });

  test("without a key it is guessed from the notes and the last of them", () => {
    // [calc] F#, C# and no G#: two sharps; E at the end: E dorian.
    const notes = [64, 66, 67, 69, 71, 73, 74, 64].map((pitch) => note(pitch, crotchet));
    expect(read(lone(...notes)).tune.key).toEqual({
      tonic: "E",
      mode: "dorian",
      signature: { F: 1, C: 1 },
      sure: false,
    });
  });

  test("notes are spelled in the key", () => {
    expect(
      read(lone(key(-2, 0), note(70, crotchet), note(63, crotchet))).tune.notes.map((one) => one.name),
    ).toEqual(["Bb4", "Eb4"]);
  });
});

describe("tracks", () => {
  const chords = [57, 60, 64].flatMap((pitch) => [0, 0x91, pitch, 80]);
  const ends = [0x83, 0x60, 0x81, 57, 0, 0, 0x81, 60, 0, 0, 0x81, 64, 0];
  const band = midiFile([
    [...text(3, "Autumn Dance"), ...text(2, "the band"), ...tempo(500_000), ...END],
    [...text(3, "Backing"), ...chords, ...ends, ...chords, ...ends, ...END],
    [...text(3, "Fiddle"), ...note(69, crotchet), ...note(71, crotchet), ...END],
    [
      ...text(3, "Drum"),
      ...note(69, quaver, 0, 9),
      ...note(69, quaver, 0, 9),
      ...note(69, quaver, 0, 9),
      ...END,
    ],
  ]);

  test("are listed with their names and how many notes they have", () => {
    const all = midiTracks(band);
    if (all.kind === "unreadable") throw new Error(all.reason);
    expect(all.tracks.map(({ name, channel, noteCount }) => [name, channel, noteCount])).toEqual([
      ["Autumn Dance", null, 0],
      ["Backing", 2, 6],
      ["Fiddle", 1, 2],
      ["Drum", 10, 3],
    ]);
  });

  test("the one like a melody is read, and the others are named", () => {
    const all = read(band);
    expect(all.track.name).toBe("Fiddle");
    expect(words(all)).toContain('of 3 tracks with notes only "Fiddle" is read');
    expect(all.tune).toMatchObject({
      title: "Autumn Dance",
      fields: [{ kind: "copyright", text: "the band" }],
    });
  });

  test("another can be chosen", () => {
    expect(read(band, { track: 1 }).tune.notes[0]?.chord).toEqual([57, 60]);
    expect(readMidi(band, { track: 0 })).toEqual({ kind: "unreadable", reason: "track 0 has no notes" });
    expect(readMidi(band, { track: 9 })).toEqual({
      kind: "unreadable",
      reason: "there is no track 9; there are 0 to 3",
    });
  });

  test("of a file of format 0 are its channels", () => {
    const all = midiTracks(lone(note(69, crotchet), note(57, crotchet, 0, 1)));
    expect(all.kind === "tracks" && all.tracks.map(({ channel, noteCount }) => [channel, noteCount])).toEqual(
      [
        [1, 1],
        [2, 1],
      ],
    );
  });
});

describe("what is written is read back", () => {
  test("every onset, length and pitch of tunes in semiquavers and triplets, and where their bars begin", () => {
    fc.assert(
      fc.property(anyPlainTune, (tune) => {
        const back = read(writeMidi(tune)).tune;
        const sounding = (one: Tune) =>
          musicOf(one).notes.map(({ startTicks, lengthTicks, midi, chord }) => [
            startTicks,
            lengthTicks,
            midi,
            chord,
          ]);
        const [first] = tune.notes;
        const begins = tune.bars.filter(
          (bar) => first !== undefined && bar.startTicks + bar.lengthTicks > first.startTicks,
        );
        const shift = begins[0]?.startTicks ?? 0;
        expect(sounding(back)).toEqual(
          sounding(tune).map(([start, ...rest]) => [Number(start) - shift, ...rest]),
        );
        const lastStart = back.bars.at(-1)?.startTicks ?? 0;
        expect(back.bars.map((bar) => bar.startTicks)).toEqual(
          begins.map((bar) => bar.startTicks - shift).filter((start) => start <= lastStart),
        );
        expect(speed(back)).toBeCloseTo(speed(tune), 2);
      }),
      { numRuns: 60 },
    );
  });

  test("upbeats and short ends of every strain, played out", () => {
    const whole = { notes: notesOf(["D4", 8]) };
    const tune = tuneOfBars([
      { notes: notesOf(["A4", 1]), lengthTicks: QUAVER, repeatFrom: 2 },
      whole,
      { notes: notesOf(["D4", 7]), lengthTicks: 7 * QUAVER, repeatTo: 2 },
    ]);
    expect(read(writeMidi(tune)).tune.bars.map((bar) => [bar.kind, bar.metre])).toEqual(
      tune.bars.map((bar) => [bar.kind, bar.metre]),
    );
  });
});
