import { describe, expect, test } from "vitest";
import { countInSeconds, type Exercise, lengthOf, onsetOf } from "../../../core/exercise/exercise.ts";
import type { HeardNote } from "../../../core/listen/listening.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { bpm, seconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { listeningOf } from "../../support/listenings.ts";
import { endOf, playNotes, sounded } from "../../support/players.ts";

/** A scale of 29 crotchets up and down two octaves, four to the bar. */
const exercise = exerciseOf({
  octaves: 2,
  start: "lowest",
  harp: exerciseOf().harp,
  position: 1,
  mode: "major",
});
const COUNT = exercise.notes.length;
const BEAT = 60 / 90;
const KNOWN = { ...USUAL_SETTINGS, beatZeroSeconds: countInSeconds(exercise) };

const mark = (notes: readonly HeardNote[], of: Exercise = exercise) =>
  scoreTake(of, listeningOf([...notes].sort((a, b) => a.onSeconds - b.onSeconds)), {
    ...KNOWN,
    beatZeroSeconds: countInSeconds(of),
  });
const verdicts = (attempt: ReturnType<typeof mark>, verdict: string) =>
  attempt.marks.filter((one) => one.verdict === verdict).map((one) => one.index);

describe("a player who does not simply play on", () => {
  test("the exercise is long enough for what follows", () => {
    expect(COUNT).toBeGreaterThanOrEqual(24);
  });

  test("begins the bar again: the later try is marked, the abandoned one listed", () => {
    const first = playNotes(exercise, { to: 7 });
    const again = playNotes(exercise, { from: 4, fromSeconds: endOf(first) + 1.7 });
    const attempt = mark([...first, ...again]);
    expect(attempt.summary.notes).toMatchObject({ hit: COUNT, extra: 0, missed: 0 });
    expect(attempt.abandoned).toMatchObject([{ fromIndex: 4, toIndex: 6, notes: 3 }]);
    expect(attempt.abandoned[0]?.onSeconds).toBeCloseTo(first[4]?.onSeconds ?? 0, 6);
    expect(attempt.marks[4]?.onSeconds).toBeCloseTo(again[0]?.onSeconds ?? 0, 6);
    expect(attempt.stretches.map((one) => one.begins)).toEqual(["start", "again"]);
    expect(attempt.marks[10]).toMatchObject({ msFrom: "where it went on", timing: "on the beat" });
    expect(attempt.faults).toEqual([]);
  });

  test("stumbles on a wrong note and begins from the top: the wrong note belongs to the abandoned try", () => {
    const first = [...playNotes(exercise, { to: 5 }), sounded(countInSeconds(exercise) + 5 * BEAT, 0.3, 87)];
    const attempt = mark([...first, ...playNotes(exercise, { fromSeconds: endOf(first) + 2 })]);
    expect(attempt.summary.notes).toMatchObject({ hit: COUNT, wrong: 0, extra: 0 });
    expect(attempt.abandoned).toMatchObject([{ fromIndex: 0, notes: 6 }]);
  });

  test("tries twice more before it goes on", () => {
    const first = playNotes(exercise, { to: 6 });
    const second = playNotes(exercise, { from: 4, to: 7, fromSeconds: endOf(first) + 1 });
    const third = playNotes(exercise, { from: 4, fromSeconds: endOf(second) + 1 });
    const attempt = mark([...first, ...second, ...third]);
    expect(attempt.summary.notes).toMatchObject({ hit: COUNT, extra: 0 });
    expect(attempt.abandoned.map((one) => [one.fromIndex, one.toIndex])).toEqual([
      [4, 5],
      [4, 6],
    ]);
  });

  test("plays the first notes once more after the end: the whole try counts, not the scrap", () => {
    const whole = playNotes(exercise);
    const attempt = mark([...whole, ...playNotes(exercise, { to: 9, fromSeconds: endOf(whole) + 2 })]);
    expect(attempt.summary.notes).toMatchObject({ hit: COUNT, missed: 0, extra: 0 });
    expect(attempt.abandoned).toMatchObject([{ fromIndex: 0, toIndex: 8 }]);
    expect(attempt.marks[0]?.onSeconds).toBeCloseTo(whole[0]?.onSeconds ?? 0, 6);
  });

  test("leaves out a bar: its notes are missed, the rest is on time from where it went on", () => {
    const first = playNotes(exercise, { to: 4 });
    const attempt = mark([...first, ...playNotes(exercise, { from: 8, fromSeconds: endOf(first) })]);
    expect(verdicts(attempt, "missed")).toEqual([4, 5, 6, 7]);
    expect(verdicts(attempt, "hit")).toHaveLength(COUNT - 4);
    expect(attempt.stretches.map((one) => one.begins)).toEqual(["start", "skip"]);
    expect(attempt.marks[12]?.ms).toBeCloseTo(0, 6);
    expect(attempt.marks[12]?.msFrom).toBe("where it went on");
    expect(attempt.summary.timing.biasMs).toBeCloseTo(0, 6);
  });

  test("is silent for a bar and comes in again on the beat: nothing has moved", () => {
    const attempt = mark([...playNotes(exercise, { to: 4 }), ...playNotes(exercise, { from: 8 })]);
    expect(verdicts(attempt, "missed")).toEqual([4, 5, 6, 7]);
    expect(attempt.stretches.map((one) => one.begins)).toEqual(["start"]);
    expect(attempt.marks[12]?.msFrom).toBe("beat");
  });

  test("stops for twelve seconds in the middle: no note suffers", () => {
    const first = playNotes(exercise, { to: 10 });
    const attempt = mark([...first, ...playNotes(exercise, { from: 10, fromSeconds: endOf(first) + 12 })]);
    expect(verdicts(attempt, "hit")).toHaveLength(COUNT);
    expect(attempt.stretches.map((one) => [one.begins, one.fromIndex])).toEqual([
      ["start", 0],
      ["stop", 10],
    ]);
    expect(attempt.marks.every((one) => one.timing === "on the beat")).toBe(true);
    expect(attempt.summary.timing.evennessMs).toBeCloseTo(0, 6);
  });

  test("what comes late after a stop keeps the player's own bias", () => {
    const late = 0.03;
    const first = playNotes(exercise, { to: 10, fromSeconds: countInSeconds(exercise) + late });
    const attempt = mark([...first, ...playNotes(exercise, { from: 10, fromSeconds: endOf(first) + 5 })]);
    expect(attempt.summary.timing.biasMs).toBeCloseTo(30, 6);
    expect(attempt.marks[20]?.ms).toBeCloseTo(30, 6);
  });

  test("starts two bars late: told as a late start, not as 5 s of bias", () => {
    const attempt = mark(playNotes(exercise, { fromSeconds: countInSeconds(exercise) + 8 * BEAT }));
    expect(verdicts(attempt, "hit")).toHaveLength(COUNT);
    expect(attempt.stretches.map((one) => one.begins)).toEqual(["late start"]);
    expect(attempt.summary.timing.biasMs).toBeNull();
    expect(attempt.faults).toEqual([]);
  });

  test.each([
    ["half", 2],
    ["double", 0.5],
  ])("plays at %s the tempo: every note right, its tempo told, time taken from its own", (_, stretch) => {
    const attempt = mark(playNotes(exercise, { stretch }));
    expect(verdicts(attempt, "hit")).toHaveLength(COUNT);
    expect(attempt.summary.timing.tempoRatio).toBeCloseTo(1 / stretch, 6);
    expect(attempt.marks[9]).toMatchObject({ msFrom: "own tempo", timing: "on the beat" });
    expect(attempt.summary.timing.biasMs).toBeNull();
    expect(attempt.faults).toEqual([]);
  });

  test("one note more than half a beat late is late by itself: the others stay on the beat", () => {
    // [calc] half a beat at 90 is 333 ms;
    const late = playNotes(exercise).map((note, n) =>
      n === 12 ? { ...note, onSeconds: seconds(note.onSeconds + 0.36) } : note,
    );
    const attempt = mark(late);
    expect(attempt.marks[12]?.ms).toBeCloseTo(360, 3);
    const rest = attempt.marks.filter(({ index }) => index !== 12);
    expect(rest.every(({ msFrom, timing }) => msFrom === "beat" && timing === "on the beat")).toBe(true);
  });

  test.each([0.1, -0.1])(
    "drifts by %d of the tempo over the take: told as drift, not as late notes",
    (drift) => {
      // [calc] each second of the music lasts 1 + drift x (how far in), from the tempo asked for to 10 % off it
      const whole = onsetOf(exercise, exercise.notes[COUNT - 1] ?? exercise.notes[0] ?? fail());
      const warp = (at: number) => at + (drift * at * at) / (2 * whole);
      const notes = exercise.notes.map((note, n) => {
        const at = onsetOf(exercise, note);
        const on = countInSeconds(exercise) + warp(at);
        return sounded(
          on,
          warp(at + lengthOf(exercise, note)) - warp(at),
          playNotes(exercise)[n]?.pitchMidi ?? null,
        );
      });
      const attempt = mark(notes);
      expect(verdicts(attempt, "hit")).toHaveLength(COUNT);
      // [calc] the first third is on average a sixth in, the last five sixths: 1 / (1 + drift / 6), 1 / (1 + 5 drift / 6)
      expect(attempt.summary.timing.tempoDrift?.first).toBeCloseTo(1 / (1 + drift / 6), 2);
      expect(attempt.summary.timing.tempoDrift?.last).toBeCloseTo(1 / (1 + (5 * drift) / 6), 2);
      expect(attempt.faults.filter((fault) => fault.kind === "early" || fault.kind === "late")).toEqual([]);
    },
  );

  test("repeats of one pitch keep their places when one is left out", () => {
    const steady = {
      ...exercise,
      notes: exercise.notes
        .slice(0, 12)
        .map((note) => ({ ...note, midi: exercise.notes[0]?.midi ?? note.midi })),
    };
    const attempt = mark(
      playNotes(steady).filter((_, n) => n !== 5),
      steady,
    );
    expect(verdicts(attempt, "missed")).toEqual([5]);
  });
});

describe("ornaments", () => {
  const fast = exerciseOf({ tempo: { bpm: bpm(112), noteValue: "1/4" }, notesPerBeat: 2 });
  const quaver = 60 / 224;

  test.each([0.025, 0.04, 0.055, 0.07])(
    "a cut of %d s before a note is listed apart and accuses nobody",
    (length) => {
      const notes = playNotes(fast);
      const cut = notes[4];
      if (cut === undefined) throw new Error("a fifth note");
      const grace = sounded(cut.onSeconds, length + 0.012, 84);
      const after = { ...cut, onSeconds: seconds(cut.onSeconds + length + 0.002) };
      const attempt = mark([...notes.slice(0, 4), grace, after, ...notes.slice(5)], fast);
      expect(attempt.summary.notes).toMatchObject({ hit: fast.notes.length, extra: 0, wrong: 0 });
      expect(attempt.ornaments).toMatchObject([{ index: 4, place: "before", heardMidi: 84 }]);
      // The beat may fall on the cut or on its note: early and late are judged wider by its length.
      expect(attempt.marks[4]?.timing).toBe("on the beat");
      expect(attempt.marks[4]?.msUncertain).toBeCloseTo(1000 * (length + 0.002), 6);
      expect(attempt.faults).toEqual([]);
    },
  );

  test("a roll is one note with a cut and a tap in it", () => {
    // A roll fills a dotted crotchet: note, cut, note, tap, note (fact sheet, section 6 [M]).
    const slow = exerciseOf({ tempo: { bpm: bpm(80), noteValue: "1/4" } });
    const notes = playNotes(slow);
    const rolled = notes[6];
    if (rolled?.pitchMidi == null) throw new Error("a seventh note");
    const at = (share: number) => rolled.onSeconds + share * (60 / 80);
    const pitch = rolled.pitchMidi;
    const roll = [
      sounded(at(0), 0.22, pitch),
      sounded(at(0) + 0.22, 0.05, pitch + 3),
      sounded(at(0) + 0.27, 0.2, pitch),
      sounded(at(0) + 0.47, 0.05, pitch - 2),
      sounded(at(0) + 0.52, 0.23, pitch),
    ];
    const attempt = mark([...notes.slice(0, 6), ...roll, ...notes.slice(7)], slow);
    expect(attempt.summary.notes).toMatchObject({ hit: slow.notes.length, extra: 0, wrong: 0 });
    expect(attempt.ornaments.map((one) => [one.index, one.place])).toEqual([
      [6, "in"],
      [6, "in"],
    ]);
    expect(attempt.marks[6]?.offSeconds).toBeCloseTo(at(0) + 0.75 - 0.012, 6);
  });

  test("a cut that parts two notes of one pitch leaves both their places", () => {
    const [first] = fast.notes;
    if (first === undefined) throw new Error("a first note");
    const twice = {
      ...fast,
      notes: fast.notes.map((note) => (note.index === 1 ? { ...note, midi: first.midi } : note)),
    };
    const notes = playNotes(twice);
    const second = notes[1];
    if (second === undefined) throw new Error("a second note");
    const cut = sounded(second.onSeconds, 0.045, 84);
    const attempt = mark(
      [
        notes[0] ?? second,
        cut,
        { ...second, onSeconds: seconds(second.onSeconds + 0.045) },
        ...notes.slice(2),
      ],
      twice,
    );
    expect(attempt.summary.notes).toMatchObject({ hit: fast.notes.length, extra: 0 });
    expect(attempt.ornaments).toHaveLength(1);
  });

  test("half a quaver is no ornament but a note too many", () => {
    const notes = playNotes(fast);
    const halved = notes[5];
    if (halved === undefined) throw new Error("a sixth note");
    const extra = sounded(halved.onSeconds + quaver / 2, quaver / 2, 90);
    const attempt = mark(
      [
        ...notes.slice(0, 5),
        { ...halved, offSeconds: seconds(extra.onSeconds - 0.012) },
        extra,
        ...notes.slice(6),
      ],
      fast,
    );
    expect(attempt.extras).toMatchObject([{ afterIndex: 5, heardMidi: 90 }]);
    expect(attempt.ornaments).toEqual([]);
  });
});

function fail(): never {
  throw new Error("an exercise without notes");
}
