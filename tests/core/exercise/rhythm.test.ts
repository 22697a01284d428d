import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DANCE_GRIDS, DANCES } from "../../../core/exercise/dance-grids.ts";
import { exerciseToAbc, meterOf, staffLines } from "../../../core/exercise/exercise-abc.ts";
import { NOTES_PER_BEAT, shortestBeats, soundingBeat, tooShort } from "../../../core/exercise/rhythm.ts";
import { staffKeyOf } from "../../../core/exercise/staff-key.ts";
import { readTab } from "../../../core/instrument/tab.ts";
import { NoteWriter } from "../../../core/tune/note-writer.ts";
import { bpm } from "../../../core/units.ts";
import { lengths, made, reasonAgainst } from "./make.ts";
import { soundingNotes } from "./read-abc.ts";

const scale = { octaves: 1, start: "easiest", direction: "up" } as const;
const crotchets = { bpm: bpm(90), noteValue: "1/4" } as const;
const jig = { bpm: bpm(90), noteValue: "3/8" } as const;
/** abcjs rounds times to a millionth of a semibreve. */
const PLACES = 5;

describe("how notes divide a beat", () => {
  test("dotted pairs are three to one, and written so", () => {
    const exercise = made("scale", { ...scale, notesPerBeat: 2, rhythm: { kind: "dotted" } });
    expect(lengths(exercise).slice(0, 4)).toEqual([0.75, 0.25, 0.75, 0.25]);
    const written = soundingNotes(exerciseToAbc(exercise));
    expect(written).toHaveLength(8);
    for (const [place, note] of written.entries())
      expect(note.length).toBeCloseTo((lengths(exercise)[place] ?? 0) / 4, PLACES); // [calc] a crotchet is 1/4 semibreve
  });

  test("a dotted jig beat is long, short, medium: 3 to 1 to 2", () => {
    // irishtune.info, rhythm definitions: dotted quaver, semiquaver, quaver.
    const exercise = made("scale", { ...scale, notesPerBeat: 3, tempo: jig, rhythm: { kind: "dotted" } });
    const [long = 0, short = 0, medium = 0] = lengths(exercise);
    expect([long, short, medium].map((length) => 6 * length)).toEqual([
      expect.closeTo(3, 9),
      expect.closeTo(1, 9),
      expect.closeTo(2, 9),
    ]);
    const written = soundingNotes(exerciseToAbc(exercise)).map((note) => note.length);
    expect(written.slice(0, 3)).toEqual([3 / 16, 1 / 16, 2 / 16]); // [calc]
  });

  test("a swing of two to one sounds uneven and is written even with a remark", () => {
    const exercise = made("scale", { ...scale, notesPerBeat: 2, rhythm: { kind: "swung", ratio: 2 } });
    expect(lengths(exercise).slice(0, 2)).toEqual([expect.closeTo(2 / 3, 9), expect.closeTo(1 / 3, 9)]); // [calc]
    const abc = exerciseToAbc(exercise);
    expect(abc).toContain('"^swing 2:1"');
    for (const note of soundingNotes(abc)) expect(note.length).toBeCloseTo(1 / 8, PLACES);
    expect(staffLines(exercise, 1).map((line) => line.abc.includes("swing"))).toEqual([true]);
  });

  test("any rhythm leaves the beats where they are, keeps the order, and its shortest note is as short as told", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...NOTES_PER_BEAT),
        fc.double({ min: 1, max: 4, noNaN: true }),
        fc.integer({ min: 0, max: 20 }),
        (notesPerBeat, ratio, beat) => {
          const rhythm = { kind: "swung", ratio } as const;
          expect(soundingBeat(beat, notesPerBeat, rhythm)).toBeCloseTo(beat, 9);
          const points = Array.from({ length: notesPerBeat * 2 + 1 }, (_, place) =>
            soundingBeat(beat + place / notesPerBeat, notesPerBeat, rhythm),
          );
          const found = points.slice(1).map((point, before) => point - (points[before] ?? 0));
          expect(Math.min(...found)).toBeCloseTo(shortestBeats(notesPerBeat, rhythm), 9);
        },
      ),
    );
  });

  test("a reel quaver at dance tempo cannot be swung far before the short one is too short to be marked", () => {
    // Trade facts 6: quaver 134 ms at minim 112. [calc] at 2:1 the short one lasts 60/112/2/3 s = 89 ms.
    const reel = { ...scale, notesPerBeat: 4, tempo: { bpm: bpm(112), noteValue: "1/2" } } as const;
    expect(made("scale", reel).notes).toHaveLength(8);
    expect(reasonAgainst("scale", { ...reel, rhythm: { kind: "swung", ratio: 2 } })).toMatch(
      /^notes would last 89 ms/,
    );
  });

  test("one note to the beat has nothing to swing", () => {
    expect(reasonAgainst("scale", { ...scale, notesPerBeat: 1, rhythm: { kind: "dotted" } })).toMatch(
      /cannot be dotted/,
    );
  });
});

describe("dances", () => {
  test("have the metres of the tempo table", () => {
    // Trade facts 6: reel 2/2, jig 6/8, slip jig 9/8, slide 12/8, hornpipe 2/2, polka 2/4, strathspey 4/4; waltz 3/4 [P].
    const metres = DANCES.map((dance) => {
      const { noteValue, beatsPerBar, notesPerBeat, danceTempo } = DANCE_GRIDS[dance];
      const tempo = { bpm: danceTempo, noteValue };
      return meterOf(made("scale", { ...scale, tempo, beatsPerBar, notesPerBeat })).join("/");
    });
    expect(metres).toEqual(["2/2", "6/8", "9/8", "12/8", "2/2", "2/4", "4/4", "3/4"]);
  });

  test.each(DANCES)("a %s at dance tempo has no note too short to be marked", (dance) => {
    const { noteValue, notesPerBeat, rhythm, danceTempo } = DANCE_GRIDS[dance];
    expect(tooShort(shortestBeats(notesPerBeat, rhythm), { bpm: danceTempo, noteValue })).toBeNull();
  });

  test("accents stand on the beats, the bars or after the beats, and on the page", () => {
    const accented = (accents: "bars" | "beats" | "off-beats") => {
      const exercise = made("scale", { ...scale, notesPerBeat: 2, accents });
      return exercise.notes.filter((note) => note.accent === true).map((note) => note.startBeats);
    };
    expect(accented("bars")).toEqual([0]);
    expect(accented("beats")).toEqual([0, 1, 2, 3]);
    expect(accented("off-beats")).toEqual([0.5, 1.5, 2.5, 3.5]);
    const abc = exerciseToAbc(made("scale", { ...scale, notesPerBeat: 2, accents: "beats" }));
    expect(abc.match(/!accent!/g)).toHaveLength(4);
  });
});

describe("rests and accidentals on the page", () => {
  const pair = { first: tabbed("4"), second: tabbed("-4"), rounds: [1, 2, 3, 4], roundBeats: 4 } as const;

  test("notes stand on the page where they sound, rests between them", () => {
    for (const tempo of [crotchets, jig]) {
      const exercise = made("breath-pair", { ...pair, tempo });
      const beat = tempo === jig ? 3 / 8 : 1 / 4;
      const written = soundingNotes(exerciseToAbc(exercise));
      expect(written).toHaveLength(exercise.notes.length);
      for (const [place, note] of written.entries()) {
        expect(note.start).toBeCloseTo((exercise.notes[place]?.startBeats ?? 0) * beat, 4);
        expect(note.length).toBeCloseTo((exercise.notes[place]?.lengthBeats ?? 0) * beat, 4);
      }
    }
  });

  test("a tone over the bar line is tied and stays one note", () => {
    const exercise = made("long-tones", { ...scale, toneBeats: 6, restBeats: 1 });
    const abc = exerciseToAbc(exercise);
    expect(abc).toContain("-");
    expect(soundingNotes(abc).map((note) => note.length)).toEqual(Array(8).fill(1.5)); // [calc] 6 crotchets
  });

  test("an accidental holds to the bar line: said once, taken back, and said again in the next bar", () => {
    const ladder = made("bend", {
      figure: "ladder",
      hole: 3,
      holdBeats: 1,
      restBeats: 0,
      repeats: 1,
      targetShown: true,
      seed: 1,
    });
    const [first = "", second = ""] = (exerciseToAbc(ladder).split("\n").at(-1) ?? "").split("|");
    // [calc] ABC 2.1, 4.2: B Bb A Ab and back by A Bb B, crotchets of 16 64ths; b7 and b6 of C are Bb and Ab.
    expect(first.trim()).toBe("B16 _B16 A16 _A16");
    expect(second.trim()).toBe("A16 _B16 =B16");
  });

  test("an accidental in another octave is said again, for programs differ on whether it holds there", () => {
    // ABC 2.1, 11.3, propagate-accidentals: the default is every octave; abcjs 6.7.2 keeps to the same one [X].
    const writer = new NoteWriter();
    writer.startBar(staffKeyOf({ home: "C", mode: "major" }).signature);
    const written = ["A#4", "A#5", "A#4", "A4", "A#5", "A5"].map((name) => writer.write(name));
    expect(written).toEqual(["^A", "^a", "A", "=A", "^a", "=a"]);
    writer.startBar({});
    expect(writer.write("A4")).toBe("A");
  });

  test("a home note whose signature would need more than seven flats is written without one", () => {
    // [calc] D flat phrygian: 5 flats and 4 more for the mode.
    expect(staffKeyOf({ home: "Db", mode: "phrygian" }).key).toBe("C");
    expect(Object.keys(staffKeyOf({ home: "Db", mode: "major" }).signature)).toHaveLength(5);
    expect(staffKeyOf({ home: "D", mode: "mixolydian" })).toEqual({
      key: "Dmix",
      signature: { F: 1 },
    });
  });
});

function tabbed(text: string) {
  const action = readTab(text);
  if (action === null) throw new Error(`"${text}" is not tab`);
  return action;
}
