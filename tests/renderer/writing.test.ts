import { describe, expect, test } from "vitest";
import { countInSeconds, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { readTab } from "../../core/instrument/tab.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { verdictSentence } from "../../core/score/verdict-sentence.ts";
import { markInWords } from "../../renderer/ui/signs.tsx";
import { USUAL_WRITING, type WritingChoice, writingOf } from "../../renderer/ui/writing.ts";
import { drill, exerciseOf } from "../support/drills.ts";
import { heardNote, listeningOf } from "../support/listenings.ts";

const writing = (choice: Partial<WritingChoice>) => writingOf({ ...USUAL_WRITING, ...choice });

describe("what core names, as the player reads it", () => {
  const german = writing({ noteNames: "german", tabForm: "letters", bendMarks: "strokes" });

  // [P] names and tab as in tests/core; the sentences are core's own.
  test.each([
    ["Bb harp", "B harp"],
    ["low F# harp, raised 3 blow", "low Fis harp, raised 3 blow"],
    ["B mixolydian scale, one octave, up and down", "H mixolydian scale, one octave, up and down"],
    ["G (1 2 b3 5) scale", "G (1 2 b3 5) scale"],
    ["note 3 (-4): wrong note, heard Bb4 (-5 or 6)", "note 3 (4D): wrong note, heard B4 (5D or 6B)"],
    ["2 of 15 notes: -3'' instead of 3 (wrong breath)", "2 of 15 notes: 3D// instead of 3B (wrong breath)"],
    ["3 of 15 notes: bend too shallow on -3''", "3 of 15 notes: bend too shallow on 3D//"],
    ["-5 sounds along at -12 dB", "5D sounds along at -12 dB"],
    [
      "3 draw, bent 2 semitones (Eb5), reach it and hold",
      "3 draw, bent 2 semitones (Es5), reach it and hold",
    ],
    ["-3'' - Bb harp", "3D// - B harp"],
    ["4 to -4 - G harp", "4B to 4D - G harp"],
    ["A 1–4 of a reel on its breath path.", "A 1–4 of a reel on its breath path."],
    ["A breath too many.", "A breath too many."],
    [
      "note 3 (-234): wrong holes, heard -345: neighbour hole",
      "note 3 (234D): wrong holes, heard 345D: neighbour hole",
    ],
    ["-345 instead of -234", "345D instead of 234D"],
    ["B-Em-F#7-B in B mixolydian, backing", "H-Em-Fis7-H in H mixolydian, backing"],
    ["; on this harp Bb without its fifth, no B.", "; on this harp B without its fifth, no H."],
  ])("%s", (ours, theirs) => {
    expect(german.say(ours)).toBe(theirs);
    expect(writing({}).say(ours)).toBe(ours);
  });

  test("a chord's root is a note, its kind stays", () => {
    expect(german.chord("Bm7")).toBe("Hm7");
    expect(writing({ noteNames: "syllables" }).chord("F#7")).toBe("Fa♯7");
  });

  test("an action and its tab from core are written alike", () => {
    const action = readTab("-3''");
    if (action === null) throw new Error("that is tab");
    expect(german.action(action)).toBe(german.tab("-3''"));
    expect(german.tab("no tab")).toBe("no tab");
  });
});

describe("every sentence of core's about a take", () => {
  const other = writing({ noteNames: "syllables", tabForm: "letters" });
  const exercise = exerciseOf({ octaves: 2 });
  /** The exercise with every note so many semitones off: wrong notes of every kind there is an explanation for. */
  const sentencesOff = (semitones: number) => {
    const heard = exercise.notes.map((note) =>
      heardNote(
        countInSeconds(exercise) + onsetOf(exercise, note),
        Number(targetMidi(exercise, note)) + semitones,
      ),
    );
    const attempt = scoreTake(exercise, listeningOf(heard));
    return [
      verdictSentence(attempt),
      ...attempt.faults.map(({ words }) => words),
      ...attempt.advice.flatMap(({ words, drillWords }) => [words, drillWords ?? ""]),
      ...attempt.marks.map((mark) => markInWords(mark, [])),
    ];
  };
  const drills = ["hold", "from-above", "match", "ladder"].flatMap((figure) => {
    const made = makeDrill({
      kind: "bend",
      ...drill(),
      beatsPerBar: 4,
      figure: figure as "hold",
      holdBeats: 4,
      restBeats: 4,
      repeats: 1,
      targetShown: true,
      seed: 1,
    });
    return made.kind === "exercise" ? [made.exercise.title, made.exercise.trains] : [];
  });
  const all = [
    ...[-12, -4, -2, -1, 0, 1, 2, 3, 12].flatMap(sentencesOff),
    ...drills,
    exercise.title,
    exercise.trains,
    harpName(exercise.harp),
  ];

  test("keeps no English letter and no signed hole", () => {
    const said = all.map(other.say);
    expect(said.filter((text, n) => text !== all[n]).length).toBeGreaterThan(20);
    const letters = /(?<![\p{L}\d])[A-G](?:[#b]{1,2})?(?:\d(?![\p{L}\d])| (?:harp|mixolydian))/u;
    expect(said.filter((text) => letters.test(text))).toEqual([]);
    // A sign stands only before decibels.
    expect(said.filter((text) => /(?<![\w±])-\d+(?! dB)/.test(text))).toEqual([]);
  });
});
