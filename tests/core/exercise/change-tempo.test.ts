import { describe, expect, test } from "vitest";
import { changeTempo } from "../../../core/exercise/change-tempo.ts";
import { drillOfExercise } from "../../../core/exercise/drill-of-exercise.ts";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { readTab } from "../../../core/instrument/tab.ts";
import { bpm } from "../../../core/units.ts";
import { tuneDrill } from "../../support/tune-drills.ts";
import { made, reasonAgainst } from "./make.ts";

const action = (text: string) => {
  const read = readTab(text);
  if (read === null) throw new Error(`"${text}" is not tab`);
  return read;
};
const at = (beats: number) => ({ tempo: { bpm: bpm(beats), noteValue: "1/4" } as const });
const scale = { octaves: 1, start: "easiest", direction: "up", notesPerBeat: 2 } as const;
const tones = { octaves: 1, start: "easiest", direction: "up", toneBeats: 8, restBeats: 8 } as const;

/** The exercise made anew by the drill it came from: what the maker thinks of its tempo. */
function again(exercise: Exercise) {
  const drill = drillOfExercise(exercise);
  if (drill.kind === "unreadable") throw new Error(drill.reason);
  return makeDrill(drill.spec);
}

describe("a drill slower or faster", () => {
  test("goes all the way where nothing is against it, and is the drill its parameters make", () => {
    const { exercise, held } = changeTempo(made("scale", scale), -20);
    expect([exercise.tempo.bpm, held]).toEqual([70, null]); // [calc] 90 - 20
    expect(again(exercise)).toEqual({ kind: "exercise", exercise });
  });

  test("stops at the slowest and fastest tempo there is, and says so", () => {
    const slow = changeTempo(made("scale", { ...scale, ...at(32) }), -5);
    expect(slow.exercise.tempo.bpm).toBe(30);
    expect(slow.held).toBe("crotchet = 30 is as slow as this goes: there is no slower tempo than 30.");
    const fast = changeTempo(made("scale", { ...scale, ...at(238), notesPerBeat: 1 }), 5);
    expect(fast.held).toBe("crotchet = 240 is as fast as this goes: there is no faster tempo than 240.");
  });

  test("stops where its notes could no longer be marked", () => {
    // [calc] four to the beat last 100 ms at 60 / 4 / 0.1 = 150 beats a minute.
    const { exercise, held } = changeTempo(made("scale", { ...scale, ...at(148), notesPerBeat: 4 }), 5);
    expect(exercise.tempo.bpm).toBe(150);
    expect(held).toMatch(
      /^crotchet = 150 is as fast as this goes: faster notes than 100 ms cannot be marked\.$/,
    );
  });

  test("stops where a tone would have to be held longer than one breath", () => {
    // [calc] 8 beats last 15 s at 60 · 8 / 15 = 32 beats a minute; at 30 they would last 16 s.
    const { exercise, held } = changeTempo(made("long-tones", { ...tones, ...at(33) }), -3);
    expect(exercise.tempo.bpm).toBe(32);
    expect(held).toBe(
      "crotchet = 32 is as slow as this goes: slower, a note on one breath would have to last 16 s, more than the 15 s a drill asks for.",
    );
    expect(again(exercise).kind).toBe("exercise");
  });

  test("stops where a run on one breath would last too long", () => {
    const run = { breath: "draw", repeats: 2, notesPerBeat: 2 } as const;
    const before = made("one-breath", run);
    const first = before.notes.findIndex(
      (note, place) => place > 0 && note.startBeats - (before.notes[place - 1]?.startBeats ?? 0) > 0.6,
    );
    const limit = Math.ceil((60 * first) / 2 / 15); // [calc] so many quavers at two to the beat in 15 s
    const { exercise, held } = changeTempo(before, -60);
    expect(exercise.tempo.bpm).toBe(Math.max(30, limit));
    expect(held).toMatch(/slower, one breath would have to last \d+(\.\d)? s/);
    expect(again({ ...exercise, ...at(limit - 1) }).kind).toBe("impossible");
  });

  test("stops where a round of hard breathing would last more than a minute", () => {
    const pair = { first: action("4"), second: action("-4"), rounds: [1, 2] as const };
    // [calc] 60 beats last a minute at 60 beats a minute.
    const { exercise, held } = changeTempo(made("breath-pair", { ...pair, roundBeats: 60, ...at(64) }), -10);
    expect(exercise.tempo.bpm).toBe(60);
    expect(held).toMatch(/slower, a round would last 66\.7 s; hard breathing needs a rest after 60 s\.$/); // [calc] 60·60/54
  });

  test("that was unlawful when it was kept is brought to the nearest lawful tempo, not refused", () => {
    const slow = { ...made("long-tones", { ...tones, ...at(60) }), ...at(20) };
    const { exercise, held } = changeTempo(slow, 5);
    expect(exercise.tempo.bpm).toBe(32);
    expect(held).toMatch(/a note on one breath/);
  });

  test("for which no tempo is right stays where it is", () => {
    const exercise = made("long-tones", { ...tones, ...at(60) });
    const notes = exercise.notes.map((note, place) =>
      place === 0 ? { ...note, lengthBeats: (note.lengthBeats * 0.01) as typeof note.lengthBeats } : note,
    );
    // [calc] 0.08 beats last 100 ms at 48 beats a minute, 30 beats last 15 s at 120: there is nothing between.
    const last = notes.at(-1);
    if (last === undefined) throw new Error("a scale has notes");
    notes[notes.length - 1] = { ...last, lengthBeats: 30 as typeof last.lengthBeats };
    expect(changeTempo({ ...exercise, notes }, 5).exercise.tempo.bpm).toBe(60);
  });
});

describe("what is asked of one breath", () => {
  test("a tone of more than fifteen seconds is refused, of fifteen is not", () => {
    expect(made("long-tones", { ...tones, ...at(32) }).notes).toHaveLength(8); // [calc] 8 beats at 32 last 15 s
    expect(reasonAgainst("long-tones", { ...tones, ...at(31) })).toBe(
      // [calc] 60 · 8 / 31 = 15.48, rounded up
      "a note on one breath would have to last 15.5 s, more than the 15 s a drill asks for: take shorter notes or a faster tempo",
    );
    const bend = { figure: "hold", hole: 3, restBeats: 4, repeats: 1, targetShown: true, seed: 1 } as const;
    expect(reasonAgainst("bend", { ...bend, holdBeats: 16, ...at(60) })).toMatch(/have to last 16 s/);
  });

  test("tones without rests are refused after a minute, with rests they may go on", () => {
    // [calc] eight tones of 8 beats are 64 beats; a minute at 60 beats a minute holds 60.
    expect(reasonAgainst("long-tones", { ...tones, restBeats: 0, ...at(60) })).toMatch(
      /^tones without a rest between them would last 64 s; hard breathing needs a rest after 60 s: put rests/,
    );
    expect(made("long-tones", { ...tones, restBeats: 1, ...at(60) }).notes).toHaveLength(8);
  });
});

describe("a tune slower or faster", () => {
  // [calc] quavers of a reel last 60 / 150 / 4 = 100 ms at minim 150, its semiquavers at minim 75.
  const reel = "X:1\nT:a reel of ours\nM:C|\nR:reel\nL:1/8\nQ:1/2=100\nK:D\nd2fd Adfd|g/f/e/d/ ce d4|";

  test("is held where most of its notes could not be marked, not by its few quick ones", () => {
    const { exercise, held } = changeTempo(tuneDrill(reel, 148), 5);
    expect(exercise.tempo).toEqual({ noteValue: "1/2", bpm: 150 });
    expect(held).toBe(
      "minim = 150 is as fast as this goes: faster, most notes would be shorter than 100 ms and could not be marked.",
    );
  });

  test("says how many notes are too short to be heard for certain, and no longer says so once it is slow", () => {
    const quick = tuneDrill(reel, 76);
    // [calc] 60 / 76 / 8 s
    expect(quick.trains).toMatch(
      /4 notes last less than 100 ms \(the shortest 99\) at this tempo: where one/,
    );
    const { exercise: slow, held } = changeTempo(quick, -2);
    expect([slow.tempo.bpm, held]).toEqual([74, null]);
    expect(slow.trains).not.toContain("ms");
    // [calc] 60 / 112 / 8 s = 67 ms
    expect(changeTempo(slow, 38).exercise.trains).toContain("(the shortest 67)");
    expect(changeTempo(slow, 2).exercise).toEqual(quick);
  });

  test("that is faster already than it should be never turns slower when it is asked to go faster", () => {
    const { exercise, held } = changeTempo(tuneDrill(reel, 180), 5);
    expect(exercise.tempo.bpm).toBe(180);
    expect(held).toMatch(/^minim = 180 is as fast as this goes/);
    expect(changeTempo(exercise, -5)).toMatchObject({ exercise: { tempo: { bpm: 175 } }, held: null });
  });
});
