import { describe, expect, test } from "vitest";
import { musicXmlParts, readMusicXml } from "../../../core/tune/read-musicxml.ts";
import { begin, bytesOf, note, scoreOfParts } from "../../support/musicxml.ts";

const inVoice = (name: string, length: number, voice: string) =>
  note(name, length, `<voice>${voice}</voice>`);
const back = "<backup><duration>8</duration></backup>";
const TWO_VOICES = inVoice("D5", 4, "1") + inVoice("E5", 4, "1") + back + inVoice("G4", 8, "2");
/** Two parts of one name, one without notes of a pitch, and a drum. */
const SCORE = bytesOf(
  scoreOfParts([
    ["P1", "Rest", begin("<note><rest/><duration>8</duration></note>")],
    ["P2", "Fiddle", begin(TWO_VOICES)],
    ["P3", "Fiddle", begin(note("B4", 8))],
    ["P4", "Drum", begin("<note><unpitched/><duration>8</duration></note>")],
  ]),
);
const names = (choices: Parameters<typeof readMusicXml>[1]) => {
  const read = readMusicXml(SCORE, choices);
  return read.kind === "tunes"
    ? read.tunes.flatMap((tune) => tune.notes.map(({ name }) => name)).join(" ")
    : read.reason;
};

describe("of a score of several parts (MusicXML 4.0, elements part and voice)", () => {
  test("those with notes of a pitch are listed, each with its voices", () => {
    expect(musicXmlParts(SCORE)).toEqual({
      kind: "parts",
      parts: [
        {
          id: "P2",
          name: "Fiddle",
          voices: [
            { name: "1", noteCount: 2 },
            { name: "2", noteCount: 1 },
          ],
        },
        { id: "P3", name: "Fiddle", voices: [{ name: "1", noteCount: 1 }] },
      ],
    });
  });

  test("one is read by its id, where two have the same name too, and in the voice asked for", () => {
    expect(names({})).toBe("D5 E5");
    expect(names({ part: "P3" })).toBe("B4");
    expect(names({ part: "P2", voice: "2" })).toBe("G4");
    expect(names({ part: "Fiddle" })).toBe("D5 E5");
  });

  test("one that is not there, or has no notes, is named with what there is", () => {
    expect(names({ part: "Flute" })).toMatch(/^no part is called "Flute"; there are "Rest", "Fiddle"/);
    expect(names({ part: "Drum" })).toBe('the part "Drum" has no notes of a pitch');
    expect(names({ part: "P3", voice: "2" })).toBe('no voice of the part is called "2"; there is "1"');
  });

  test("of a file that is broken the place is named", () => {
    expect(musicXmlParts(SCORE.slice(0, 200))).toMatchObject({
      kind: "unreadable",
      reason: expect.stringMatching(/^line \d+, column \d+: /),
    });
  });
});
