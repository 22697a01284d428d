import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readKey } from "../../../../core/tune/abc/key-field.ts";
import { music, names, tuneOf } from "./read.ts";

const inKey = (key: string, body: string) =>
  tuneOf(`X:1\nT:A tune of ours\nM:4/4\nL:1/8\nK:${key}\n${body}\n`);
const midis = (body: string) => music(body).notes.map(({ midi }) => midi);

describe("pitch (ABC 2.1, 4.1) [F 47]", () => {
  test("capitals are the octave from middle C, small letters the next, commas and apostrophes the others", () => {
    // [F 47] C is C4 = 60; [calc] the major scale 0 2 4 5 7 9 11.
    expect(midis("CDEFGAB cdefgab|")).toEqual([60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77, 79, 81, 83]);
    expect(midis("C, C,, c' c'' C' c, c,'|")).toEqual([48, 36, 84, 96, 72, 60, 72]);
    expect(names(music("C, c' ^F _b,|"))).toBe("C3 C6 F#4 Bb4");
  });
});

describe("accidentals (4.2, 11.3) [F 47] [F 80]", () => {
  test("^ ^^ _ __ = stand before the note", () => {
    expect(midis("^F|^^F|_B|__B|=B|")).toEqual([66, 67, 70, 69, 71]);
    expect(names(music("^^F|__B|"))).toBe("F##4 Bbb4");
    expect(inKey("D", "F =F|F|").notes.map(({ midi }) => midi)).toEqual([66, 65, 66]);
  });

  test("hold to the bar line, in all octaves: the standard's default", () => {
    // 66 77 would be the setting "octave".
    expect(midis("^F f F,|F f|")).toEqual([66, 78, 54, 65, 77]);
  });

  test("a later one in the bar replaces it", () => {
    expect(midis("^F F =f F _F f|")).toEqual([66, 66, 77, 65, 64, 76]);
  });

  test.each([
    ["octave", [66, 77, 66, 65]],
    ["pitch", [66, 78, 66, 65]],
    ["not", [66, 77, 65, 65]],
  ])("%%%%propagate-accidentals %s", (how, expected) => {
    const read = (field: string) =>
      tuneOf(`X:1\nT:A tune of ours\nL:1/8\n${field}\nK:C\n^F f F|F|\n`).notes.map(({ midi }) => midi);
    expect(read(`%%propagate-accidentals ${how}`)).toEqual(expected);
    expect(read(`I:propagate-accidentals ${how}`)).toEqual(expected);
  });

  test("can be set in the file's header, and changed in the music", () => {
    const text =
      "%%propagate-accidentals octave\n\nX:1\nT:A tune of ours\nL:1/8\nK:C\n^F f|[I:propagate-accidentals pitch]^F f|\n";
    expect(tuneOf(text).notes.map(({ midi }) => midi)).toEqual([66, 77, 66, 78]);
  });

  test("every kind of bar line ends them, a tie carries them over it", () => {
    for (const line of ["|", "||", "|]", "[|", ".|", "[|]", ":|", "|:"]) {
      expect(midis(`^F2${line}F2|`).at(-1)).toBe(65);
    }
    expect(midis("^F4-|F4|F4|")).toEqual([66, 65]);
    expect(midis("^F4-|F2 F2|")).toEqual([66, 65]);
  });

  test("one on a grace note holds for the notes after it, as abc2midi 4.84 plays it [X]", () => {
    expect(midis("{^f}F F|F|")).toEqual([66, 66, 65]);
  });

  test("a quarter tone is read as its whole accidental, and said so", () => {
    const tune = music("^/F _3/2B|");
    expect(tune.notes.map(({ midi }) => midi)).toEqual([66, 70]);
    expect(tune.remarks.map(({ words }) => words)).toContain("^/ is not a whole semitone: it is read as ^");
  });
});

describe("keys (3.1.14) [F 47]", () => {
  /** Sharps less flats of the signature. */
  const fifths = (key: string) => {
    const read = readKey(key);
    if (read.kind === "unreadable") throw new Error(read.reason);
    return Object.values(read.value.key?.signature ?? {}).reduce((sum, sign) => sum + (sign ?? 0), 0);
  };

  test.each([
    ["C", 0],
    ["C#", 7],
    ["Cb", -7],
    ["G", 1],
    ["Bb", -2],
    ["F#m", 3],
    ["Am", 0],
    ["Em", 1],
    ["Gm", -2],
    ["DMix", 1],
    ["AMixolydian", 2],
    ["ADor", 1],
    ["E dorian", 2],
    ["E PHRYGIAN", 0],
    ["B locrian", 0],
    ["FLyd", 0],
    ["C ion", 0],
    ["D aeolian", -1],
    ["A minor", 0],
    ["G Major", 1],
    ["F# mix", 5],
    ["none", 0],
    ["", 0],
  ])("%s has %d sharps less flats", (key, expected) => {
    expect(fifths(key)).toBe(expected);
  });

  test("all seven modes of every tonic shift the major signature as the standard lists", () => {
    // [F 47] Ion 0, Mix -1, Dor -2, Aeo -3, Phr -4, Loc -5, Lyd +1.
    const shifts = { ion: 0, mix: -1, dor: -2, aeo: -3, m: -3, phr: -4, loc: -5, lyd: 1 };
    const majors = { F: -1, C: 0, G: 1, D: 2, A: 3, E: 4, B: 5, Bb: -2, Eb: -3, "F#": 6 };
    for (const [tonic, major] of Object.entries(majors)) {
      for (const [mode, shift] of Object.entries(shifts))
        expect(fifths(`${tonic}${mode}`)).toBe(major + shift);
    }
  });

  test("extra accidentals change the signature, exp lists all of it", () => {
    expect(inKey("D =c", "c f|").notes.map(({ midi }) => midi)).toEqual([72, 78]);
    // [calc] D Phrygian has B and E flat; then F sharp.
    expect(names(inKey("D Phr ^f", "DEFGABc|"))).toBe("D4 Eb4 F#4 G4 A4 Bb4 C5");
    expect(names(inKey("D exp _b _e ^f", "DEFGABc|"))).toBe("D4 Eb4 F#4 G4 A4 Bb4 C5");
    expect(names(inKey("^c", "CFcf|"))).toBe("C#4 F4 C#5 F5");
  });

  test.each(["HP", "Hp"])(
    "%s sounds C and F sharp, as the pipes do and abc2midi 4.84 plays it [X]",
    (key) => {
      expect(names(inKey(key, "GABcdefga|"))).toBe("G4 A4 B4 C#5 D5 E5 F#5 G5 A5");
    },
  );

  test("a change holds from where it stands, on its own line and in brackets", () => {
    expect(names(inKey("C", "F|[K:D]F|\nK:Am\nF|"))).toBe("F4 F#4 F4");
  });

  test("the key is sure where the last note is its tonic, and to be asked where it is not", () => {
    expect(inKey("D", "A4 D4|").key).toMatchObject({ tonic: "D", mode: "major", sure: true });
    expect(inKey("G", "G4 A4|").key).toMatchObject({ tonic: "G", mode: "major", sure: false });
    expect(inKey("none", "G4 A4|").key).toMatchObject({ tonic: "A", mode: null, sure: false });
  });

  test("what is no key makes a bad tune, with the word", () => {
    // Nothing is "left out": without a key there is no tune.
    expect(() => inKey("xyz", "C|")).toThrow(/^K:"xyz" is no key$/);
  });
});

describe("clefs and transposition (4.6) [F 47]", () => {
  test.each([
    ["C octave=-1", "C3 C4"],
    ["C octave=1", "C5 C6"],
    ["C treble-8", "C3 C4"],
    ["C clef=treble+8", "C5 C6"],
    ["C bass+8 octave=-1", "C4 C5"],
    ["C clef=bass middle=d", "C4 C5"],
    ["C transpose=-2", "A#3 A#4"],
    ["C t=3", "D#4 D#5"],
    ["clef=alto", "C4 C5"],
  ])("K:%s", (key, expected) => {
    expect(names(inKey(key, "Cc|"))).toBe(expected);
  });

  test("a clef alone leaves the key as it is", () => {
    expect(names(inKey("D", "F|[K:clef=bass octave=-1]F|"))).toBe("F#4 F#3");
  });
});

test("accidentals of any bar of notes follow from a table filled from left to right", () => {
  const note = fc.tuple(
    fc.constantFrom("", "", "^", "_", "=", "^^", "__"),
    fc.constantFrom(..."CDEFGABcdefgab"),
  );
  const values: Readonly<Record<string, number>> = { "^": 1, "^^": 2, "=": 0, _: -1, __: -2 };
  fc.assert(
    fc.property(fc.array(note, { minLength: 1, maxLength: 30 }), (notes) => {
      // [calc] 11.3: an accidental holds for its letter until the bar line; D major sharpens F and C.
      const held = new Map<string, number>([
        ["F", 1],
        ["C", 1],
      ]);
      const altered = notes.map(([sign, letter]) => {
        const upper = letter.toUpperCase();
        if (sign !== "") held.set(upper, values[sign] ?? 0);
        return held.get(upper) ?? 0;
      });
      const plain = music(`${notes.map(([, letter]) => letter).join("")}|`).notes.map(({ midi }) => midi);
      const read = inKey("D", `${notes.map(([sign, letter]) => sign + letter).join("")}|`);
      expect(read.notes.map(({ midi }) => midi)).toEqual(plain.map((midi, at) => midi + (altered[at] ?? 0)));
    }),
    { numRuns: 100 },
  );
});
