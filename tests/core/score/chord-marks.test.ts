import * as v from "valibot";
import { describe, expect, test } from "vitest";
import { attemptShape } from "../../../core/archive/attempt-shape.ts";
import { countInSeconds, holesOf, lengthOf, onsetOf } from "../../../core/exercise/exercise.ts";
import { retune } from "../../../core/exercise/retune.ts";
import type { HeardChord } from "../../../core/listen/chords/heard-chord.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { reedsOf } from "../../../core/progress/counts/reed-counts.ts";
import { toCsv } from "../../../core/score/csv.ts";
import { reedsOfExercise } from "../../../core/score/known-reeds.ts";
import { marksTable } from "../../../core/score/marks-table.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { verdictSentence } from "../../../core/score/verdict-sentence.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { dbfs, hz, milliseconds, seconds } from "../../../core/units.ts";
import { listeningOf } from "../../support/listenings.ts";
import { made } from "../exercise/make.ts";

/** On a C harp [F 1]: blow 1-3 C E G, then draw 1-3 D G B, four strokes each. */
const exercise = made("backing", {
  chords: "I-V",
  strokes: "beats",
  mostHoles: 3,
  partial: true,
  repeats: 1,
});

type Change = Partial<HeardChord> & { readonly laterMs?: number };

/** What an ear hears that misses nothing, but for changes by note; null for a chord that was not heard. */
function heardWith(changes: Readonly<Record<number, Change | null>> = {}) {
  const chords = exercise.notes.flatMap((note): HeardChord[] => {
    const change = changes[note.index];
    if (change === null) return [];
    const on = countInSeconds(exercise) + onsetOf(exercise, note) + (change?.laterMs ?? 0) / 1000;
    return [
      {
        onSeconds: seconds(on),
        offSeconds: seconds(on + lengthOf(exercise, note)),
        breath: note.action.breath,
        holes: holesOf(note),
        unsureHoles: [],
        octaveHoles: [],
        levelDbfs: dbfs(-20),
        unsure: null,
        ...change,
      },
    ];
  });
  return { ...listeningOf([]), chords };
}

const scored = (changes: Readonly<Record<number, Change | null>> = {}) =>
  scoreTake(exercise, heardWith(changes), { ...USUAL_SETTINGS, latencyMs: milliseconds(0) });

describe("marks of chords", () => {
  test("are right where the right holes sound and none else, and say nothing of intonation", () => {
    const { marks, summary, faults } = scored();
    expect(marks.map(({ verdict }) => verdict)).toEqual(exercise.notes.map(() => "hit"));
    expect(marks.every(({ cents, intonation }) => cents === null && intonation === null)).toBe(true);
    expect([summary.notes.hit, summary.intonation.measuredNotes, faults]).toEqual([8, 0, []]);
  });

  // Note 3 asks for blow 1 2 3, note 6 for draw 1 2 3.
  test.each([
    [2, { holes: [2, 3] }, "hole missing", "23 instead of 123"],
    [5, { holes: [1, 2, 3, 4] }, "hole too many", "-1234 instead of -123"],
    [2, { holes: [2, 3, 4] }, "neighbour hole", "234 instead of 123"],
    [5, { breath: "blow", holes: [1, 2, 3] }, "wrong breath", "123 instead of -123"],
    [5, { holes: [5, 6] }, "another chord", "-56 instead of -123"],
    [5, { breath: "blow", holes: [5, 6] }, "another chord", "56 instead of -123"],
  ] as const)("note %d with %j is %s", (index, change, kind, words) => {
    const { marks, summary, faults } = scored({ [index]: change });
    expect(marks[index]).toMatchObject({ verdict: "wrong", diagnosis: { kind, words } });
    expect(summary.notes).toMatchObject({ hit: 7, wrong: 1, extra: 0 });
    expect(faults.map((fault) => [fault.kind, fault.index])).toEqual([["wrong", index]]);
  });

  test("tell what is missed, late and too many", () => {
    const late = scored({ 2: null, 5: { laterMs: 70 } });
    expect(late.marks[2]?.verdict).toBe("missed");
    // [calc] 70 ms after its beat, beyond the 40 ms of the usual tolerance.
    expect(late.marks[5]).toMatchObject({ verdict: "hit", timing: "late" });
    const heard = heardWith();
    const [first] = heard.chords;
    if (first === undefined) throw new Error("there are chords");
    const between = {
      ...first,
      onSeconds: seconds(first.onSeconds + 0.52),
      offSeconds: seconds(first.onSeconds + 0.62),
    };
    const more = scoreTake(exercise, {
      ...heard,
      chords: [...heard.chords, { ...between, holes: [6, 7] }].sort((a, b) => a.onSeconds - b.onSeconds),
    });
    expect(more.extras.map(({ heardAs }) => heardAs)).toEqual([["67"]]);
    expect(more.summary.notes).toMatchObject({ hit: 8, extra: 1 });
  });

  test("are not measured where the ear is not sure, and say of what", () => {
    const nothing = { breath: null, holes: [], unsure: "more than one chord fits" } as const;
    const { marks, summary } = scored({
      0: nothing,
      2: { holes: [2, 3], unsureHoles: [1], unsure: "more than one chord fits" },
      3: { unsureHoles: [5], unsure: "more than one chord fits" },
    });
    expect(marks[0]).toMatchObject({ verdict: "not measured", reason: expect.stringContaining("not sure") });
    expect(marks[2]?.reason).toBe("whether 1 sounds with the rest cannot be told");
    expect(marks[3]?.reason).toBe("whether 5 sounds with the rest cannot be told");
    expect(summary.notes).toMatchObject({ hit: 5, wrong: 0, missed: 0, notMeasured: 3, hitShare: 1 });
  });

  test("do not mind a hole that would only add an octave", () => {
    // [F 1] blow 4 and 5 are the octaves of blow 1 and 2.
    expect(scored({ 1: { octaveHoles: [4, 5] } }).marks[1]?.verdict).toBe("hit");
  });

  test("say nothing where chords were not listened for", () => {
    const { marks } = scoreTake(exercise, listeningOf([]));
    expect(marks.map(({ verdict, reason }) => [verdict, reason])).toEqual(
      exercise.notes.map(() => ["not measured", "chords were not listened for"]),
    );
  });
});

describe("an attempt with chords", () => {
  const attempt = scored({ 2: { holes: [2, 3, 4] } });

  test("goes into archives and tables, by chord and holes", () => {
    expect(v.safeParse(attemptShape, JSON.parse(JSON.stringify(attempt))).success).toBe(true);
    const rows = marksTable(exercise, attempt);
    const column = (name: string) => (rows[0] ?? []).indexOf(name);
    const third = rows[3] ?? [];
    expect([third[column("asked")], third[column("reed")], third[column("heard")]]).toEqual([
      "C",
      "1 2 3 blow",
      "2 3 4 blow",
    ]);
    expect(toCsv(rows)).not.toContain("undefined");
    expect(verdictSentence(attempt)).toMatch(/7 of 8 notes right.*wrong holes, heard 234: neighbour hole/);
  });

  test("counts for no single reed", () => {
    expect(reedsOf(exercise, attempt)).toEqual({});
  });
});

describe("a harp taken to be tuned otherwise", () => {
  test("moves every reed of a chord, and a take of it is marked again as before", () => {
    const tuning = { a4: hz(443), temperament: { kind: "scheme", scheme: "just-first-position" } } as const;
    const retuned = retune(exercise, tuning);
    // [F 19] 5-limit just, 1st position: hole 2 blow -14 cents, hole 3 blow +2; [calc] exactly 386.31 - 400 and 701.96 - 700.
    const besides = retuned.notes[0]?.chord?.besides ?? [];
    expect(besides.map(({ targetCents }) => Number(targetCents.toFixed(2)))).toEqual([-13.69, 1.96]);
    const { samples, sampleRateHz } = simulateTake(exercise, { seed: 4, plants: [], sampleRateHz: 44_100 });
    const again = scoreTake(
      retuned,
      listenToTake(samples, sampleRateHz, undefined, reedsOfExercise(retuned)),
    );
    expect(again.summary.notes).toMatchObject({ hit: 8, extra: 0 });
  });
});

describe("a simulated player of chords", () => {
  test("is heard and marked right, but for the chord he misses by a hole", () => {
    const plants = [{ kind: "wrong" as const, index: 5, midi: draw2() }];
    const { samples, sampleRateHz } = simulateTake(exercise, { seed: 3, plants, sampleRateHz: 48_000 });
    const attempt = scoreTake(
      exercise,
      listenToTake(samples, sampleRateHz, undefined, reedsOfExercise(exercise)),
    );
    expect(attempt.marks.filter(({ verdict }) => verdict !== "hit").map(({ index }) => index)).toEqual([5]);
    expect(attempt.marks[5]?.heardAs).toEqual(["-234"]);
  });

  /** [F 1] draw 2 of a C harp: where draw 1-3 begins one hole too high. */
  function draw2() {
    const reed = exercise.notes[5]?.chord?.besides[0];
    if (reed === undefined) throw new Error("draw 1-3 has a second reed");
    return reed.midi;
  }
});
