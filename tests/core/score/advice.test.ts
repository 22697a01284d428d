import { describe, expect, test } from "vitest";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { reedNote } from "../../../core/instrument/harp.ts";
import type { HeardNote } from "../../../core/listen/listening.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { midi, seconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { listeningOf } from "../../support/listenings.ts";
import { playNotes } from "../../support/players.ts";

const exercise = exerciseOf();

/** Plays the exercise with some of its notes changed. */
function adviceFor(change: (note: HeardNote, index: number) => HeardNote | null) {
  const notes = playNotes(exercise).flatMap((note, index) => change(note, index) ?? []);
  return scoreTake(exercise, listeningOf(notes)).advice;
}

/** The other reed of the same hole. */
function otherBreath(index: number) {
  const action = exercise.notes[index]?.action;
  if (action === undefined) throw new Error(`no note ${index}`);
  return midi(Number(reedNote(exercise.harp, action.hole, action.breath === "blow" ? "draw" : "blow")));
}

describe("what to practise next", () => {
  test("nothing where nothing went wrong", () => {
    expect(adviceFor((note) => note)).toEqual([]);
  });

  test("what cost most comes first, counted against the notes that could be judged", () => {
    const advice = adviceFor((note, n) => {
      if (n === 3) return null;
      return [2, 8, 12].includes(n) ? { ...note, pitchMidi: otherBreath(n) } : note;
    });
    expect(advice.map(({ cause, notes, of }) => [cause, notes, of])).toEqual([
      ["wrong breath", 3, 15],
      ["missed", 1, 15],
    ]);
    expect(advice[0]?.words).toMatch(/^3 of 15 notes: /);
  });

  test("is at most three causes", () => {
    const advice = adviceFor((note, n) => {
      const changed: Readonly<Record<number, HeardNote | null>> = {
        1: { ...note, pitchMidi: otherBreath(1) },
        3: null,
        5: { ...note, pitchMidi: midi(Number(note.pitchMidi) + 0.4) },
        9: { ...note, onSeconds: seconds(note.onSeconds + 0.08) },
        12: { ...note, pitchMidi: midi(Number(note.pitchMidi) + 12) },
      };
      return n in changed ? (changed[n] ?? null) : note;
    });
    expect(advice).toHaveLength(3);
  });

  test("wrong breath is worked on by those two reeds back and forth", () => {
    const advice = adviceFor((note, n) => (n === 2 ? { ...note, pitchMidi: otherBreath(2) } : note));
    const action = exercise.notes[2]?.action;
    expect(advice[0]?.drill).toMatchObject({
      kind: "breath-pair",
      first: action,
      second: { hole: action?.hole, breath: action?.breath === "blow" ? "draw" : "blow" },
    });
  });

  test("notes out of tune by long tones, missed ones by the same drill slower", () => {
    const flat = adviceFor((note, n) =>
      n % 3 === 0 ? { ...note, pitchMidi: midi(Number(note.pitchMidi) - 0.35) } : note,
    );
    expect(flat[0]).toMatchObject({ cause: "flat", drill: { kind: "long-tones" } });
    const missed = adviceFor((note, n) => (n === 6 || n === 10 ? null : note));
    // [calc] four fifths of 90
    expect(missed[0]).toMatchObject({
      cause: "missed",
      notes: 2,
      drill: { kind: "scale", tempo: { bpm: 72 } },
    });
  });

  test("every drill named can be made, and is called by its title", () => {
    const advice = adviceFor((note, n) =>
      n % 2 === 0 ? { ...note, pitchMidi: otherBreath(n) } : n === 5 ? null : note,
    );
    expect(advice.length).toBeGreaterThan(1);
    for (const { drill, drillWords } of advice) {
      const made = drill === null ? null : makeDrill(drill);
      expect(made?.kind).toBe("exercise");
      if (made?.kind === "exercise") expect(drillWords).toContain(made.exercise.title);
    }
  });

  test("a bend that stays too shallow is matched to a plain note, the same hole and depth", () => {
    const bending = exerciseOf({ start: "lowest" });
    const at = bending.notes.findIndex((note) => note.action.technique === "bend");
    expect(at).toBeGreaterThan(-1);
    const notes = playNotes(bending).map((note, n) =>
      n === at ? { ...note, pitchMidi: midi(Number(note.pitchMidi) + 0.4) } : note,
    );
    const { hole, bentSemitones } = bending.notes[at]?.action ?? { hole: 0, bentSemitones: 0 };
    expect(scoreTake(bending, listeningOf(notes)).advice[0]).toMatchObject({
      cause: "bend too shallow",
      drill: { kind: "bend", figure: "match", hole, bentSemitones },
    });
  });
});
