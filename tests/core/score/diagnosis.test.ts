import { describe, expect, test } from "vitest";
import { countInSeconds, type Exercise, onsetOf } from "../../../core/exercise/exercise.ts";
import { actionNote } from "../../../core/instrument/reed-actions.ts";
import { readTab, tab } from "../../../core/instrument/tab.ts";
import type { HeardNote } from "../../../core/listen/listening.ts";
import type { DiagnosisKind } from "../../../core/score/attempt.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { dbfs, midi, seconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";
import { listeningOf } from "../../support/listenings.ts";
import { playNotes, sounded } from "../../support/players.ts";

const onC = exerciseOf({ harp: harp("C"), position: 1, mode: "major" });

/** The exercise on a C harp with its sixth note asked for by tab. */
function asking(asked: string): Exercise {
  const action = readTab(asked);
  const note = action === null ? null : actionNote(onC.harp, action);
  if (action === null || note === null) throw new Error(`${asked} is not on a C harp`);
  const notes = onC.notes.map((one) =>
    one.index === 5 ? { ...one, action, midi: note, tab: tab(action) } : one,
  );
  return { ...onC, notes };
}

function markSixth(exercise: Exercise, pitch: number, changes: Partial<HeardNote> = {}) {
  const at = exercise.notes[5];
  if (at === undefined) throw new Error("a sixth note");
  const notes = playNotes(exercise);
  notes[5] = sounded(countInSeconds(exercise) + onsetOf(exercise, at), 0.6, pitch, changes);
  return scoreTake(exercise, listeningOf(notes)).marks[5];
}

/** Layout of a C harp: fact sheet, section 1 [F 1]; bends and overblows: section 2. MIDI: C4 = 60. */
const SLIPS: readonly (readonly [string, number, DiagnosisKind, string])[] = [
  ["4", 67, "neighbour hole", "3 blow G4 for 4 blow C5"],
  ["4", 76, "neighbour hole", "5 blow E5 for 4 blow C5"],
  ["-4", 71, "neighbour hole", "3 draw B4 for 4 draw D5"],
  ["-7", 81, "neighbour hole", "6 draw A5 for 7 draw B5"],
  ["4", 74, "wrong breath", "4 draw D5 for 4 blow C5"],
  ["-5", 76, "wrong breath", "5 blow E5 for 5 draw F5"],
  ["-8", 88, "wrong breath", "8 blow E6 for 8 draw D6"],
  ["-4'", 72, "wrong breath", "4 blow C5, which no bend reaches, for C#5"],
  ["-3''", 70, "bend too shallow", "bent one semitone, Bb4, for two, A4"],
  ["-3''", 69.6, "bend too shallow", "60 cents above A4"],
  ["-3'", 69.4, "bend too deep", "60 cents below Bb4"],
  ["-2'", 65, "bend too deep", "F4 for F#4"],
  ["-3''", 71, "unbent", "plain 3 draw B4 for A4"],
  ["10'", 96, "unbent", "plain 10 blow C7 for B6"],
  ["6o", 79, "unbent", "plain 6 blow G5 for the overblow Bb5"],
  ["-3", 70, "bend too deep", "pulled down to Bb4 where B4 was asked for"],
  ["4", 60, "octave", "1 blow C4 for 4 blow C5"],
  ["4", 84, "octave", "7 blow C6 for 4 blow C5"],
  ["9", 66, "unknown", "F#4 for 9 blow G6, a place far away"],
];

describe("a wrong note explained from the layout", () => {
  test.each(SLIPS)("asked %s, heard %d: %s", (asked, heard, kind) => {
    const mark = markSixth(asking(asked), heard);
    expect(mark?.verdict).toBe("wrong");
    expect(mark?.diagnosis?.kind).toBe(kind);
  });

  test("what gives the same sound is named beside it", () => {
    // [F 1] 2 draw and 3 blow both sound G4: for 3 draw either is a slip.
    const diagnosis = markSixth(asking("-3"), 67)?.diagnosis;
    expect([diagnosis?.kind, ...(diagnosis?.others ?? [])].sort()).toEqual([
      "neighbour hole",
      "wrong breath",
    ]);
  });

  test("the words name both places", () => {
    expect(markSixth(asking("-4"), 71)?.diagnosis).toMatchObject({
      words: "3 draw instead of 4 draw",
      holes: [3],
      offCents: -300,
    });
  });

  test.each([
    [24, null],
    [26, "bend too shallow"],
    [45, "bend too shallow"],
    [-26, "bend too deep"],
    [-45, "bend too deep"],
  ])("a bend %d cents from its target is right, and told shallow or deep from 25 on", (cents, kind) => {
    const mark = markSixth(asking("-3''"), 69 + cents / 100);
    expect(mark?.verdict).toBe("hit");
    expect(mark?.diagnosis?.kind ?? null).toBe(kind);
  });

  test("a right plain note needs no explanation, however flat", () => {
    expect(markSixth(asking("-3"), 70.6)).toMatchObject({
      verdict: "hit",
      intonation: "flat",
      diagnosis: null,
    });
  });
});

describe("two holes at once", () => {
  const leak = (pitch: number, levelDb: number) => ({ leak: { pitchMidi: midi(pitch), levelDb } });

  test("a right note with a loud neighbour stays right, and both holes are named", () => {
    const mark = markSixth(asking("4"), 72, leak(76, -8));
    expect(mark).toMatchObject({
      verdict: "hit",
      secondReed: { tab: "5", hole: 5, levelDb: -8, loud: true },
    });
    expect(mark?.diagnosis).toMatchObject({ kind: "two holes at once", holes: [4, 5] });
  });

  test("a faint neighbour is told with its level and accuses nobody", () => {
    const mark = markSixth(asking("4"), 72, leak(76, -24));
    expect(mark).toMatchObject({ diagnosis: null, secondReed: { tab: "5", loud: false } });
  });

  test("the neighbour louder than the note asked for is the same slip", () => {
    const mark = markSixth(asking("4"), 76, leak(72, -3));
    expect(mark).toMatchObject({ verdict: "wrong", diagnosis: { kind: "two holes at once", holes: [4, 5] } });
  });

  test("a second reed of no neighbouring hole is no such slip", () => {
    expect(markSixth(asking("4"), 72, leak(84, -8))?.diagnosis).toBeNull();
  });
});

describe("a breath changed too early", () => {
  test("the old hole on the new breath before the move is named at the note it cut short", () => {
    // 5 blow (E5), then 5 draw: ask 4 draw, 5 blow: on the way the player blows 4 (C5).
    const asked = asking("-4");
    const fifth = readTab("5");
    if (fifth === null) throw new Error("5 is tab");
    const next = asked.notes.map((one) =>
      one.index === 6 ? { ...one, action: fifth, midi: midi(76), tab: "5" } : one,
    );
    const exercise = { ...asked, notes: next };
    const notes = playNotes(exercise);
    const cut = notes[5];
    if (cut === undefined) throw new Error("a sixth note");
    const turn = cut.onSeconds + 0.4;
    notes.splice(5, 1, { ...cut, offSeconds: seconds(turn - 0.01) }, sounded(turn, 0.25, 72));
    const attempt = scoreTake(exercise, listeningOf(notes));
    expect(attempt.marks[5]).toMatchObject({
      verdict: "hit",
      diagnosis: { kind: "early breath change", holes: [4] },
    });
    expect(attempt.extras).toMatchObject([{ diagnosis: { kind: "early breath change" } }]);
  });
});

describe("what is no note too many", () => {
  const exercise = asking("4");
  const sixth = () => {
    const note = playNotes(exercise)[5];
    if (note === undefined) throw new Error("a sixth note");
    return note;
  };

  test("the second of two holes, as loud as the first and heard by itself for a while", () => {
    const turn = sixth().onSeconds + 0.3;
    const both = { leak: { pitchMidi: midi(72), levelDb: -1 } };
    const notes = playNotes(exercise);
    notes.splice(5, 1, { ...sixth(), offSeconds: seconds(turn) }, sounded(turn, 0.3, 76, both));
    const attempt = scoreTake(exercise, listeningOf(notes));
    expect(attempt.extras).toEqual([]);
    expect(attempt.marks[5]).toMatchObject({
      verdict: "hit",
      diagnosis: { kind: "two holes at once", holes: [4, 5] },
    });
  });

  test("a note that rings on in the room after its end, softer; as loud as before it is one", () => {
    const notes = playNotes(exercise);
    const echo = (levelDbfs: number, pitch: number) =>
      sounded(sixth().onSeconds + 0.4, 0.15, pitch, { levelDbfs: dbfs(levelDbfs) });
    const cut = { ...sixth(), offSeconds: seconds(sixth().onSeconds + 0.35) };
    const extrasWith = (level: number, pitch = 72) =>
      scoreTake(exercise, listeningOf(notes.toSpliced(5, 1, cut, echo(level, pitch)))).extras.length;
    expect(extrasWith(-34)).toBe(0);
    expect(extrasWith(-20)).toBe(1);
    // [calc] its third harmonic, 12 log2 3 = 19.02 semitones above it, may outlast the rest.
    expect(extrasWith(-45, 91.02)).toBe(0);
    expect(extrasWith(-45, 89)).toBe(1);
  });
});
