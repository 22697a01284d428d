import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { countInSeconds, type Exercise, onsetOf, targetMidi } from "../../../core/exercise/exercise.ts";
import type { HeardNote } from "../../../core/listen/listening.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { bpm, milliseconds, seconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";
import { heardNote, listeningOf } from "../../support/listenings.ts";

const exercise = exerciseOf();

/** The exercise as a perfect player sounds it, moved by so many seconds and cents. */
function perfect(of: Exercise = exercise, late = 0, sharp = 0): HeardNote[] {
  return of.notes.map((note) =>
    heardNote(countInSeconds(of) + onsetOf(of, note) + late, targetMidi(of, note) + sharp / 100),
  );
}

function replace(notes: readonly HeardNote[], place: number, ...by: HeardNote[]): HeardNote[] {
  return [...notes.slice(0, place), ...by, ...notes.slice(place + 1)];
}

const at = (place: number) => countInSeconds(exercise) + place * (60 / 90);

describe("marks", () => {
  test("a perfect take is all hit, without bias or spread", () => {
    const attempt = scoreTake(exercise, listeningOf(perfect()));
    expect(attempt.marks.map((mark) => mark.verdict)).toEqual(exercise.notes.map(() => "hit"));
    expect(attempt.summary.notes.hitShare).toBe(1);
    expect(attempt.summary.intonation.biasCents).toBeCloseTo(0, 6);
    expect(attempt.summary.timing.biasMs).toBeCloseTo(0, 6);
    expect(attempt.summary.timing.tempoRatio).toBeCloseTo(1, 9);
    expect(attempt.faults).toEqual([]);
  });

  test("one of each mistake is reported as exactly that", () => {
    const right = perfect();
    const flat = right[9];
    const late = right[12];
    if (flat === undefined || late === undefined) throw new Error("fifteen notes expected");
    let take = replace(right, 12, heardNote(late.onSeconds + 0.06, Number(late.pitchMidi)));
    take = replace(take, 9, heardNote(flat.onSeconds, Number(flat.pitchMidi) - 0.3));
    take = replace(take, 6, right[6] as HeardNote, heardNote(at(6.5), 90));
    take = replace(take, 4);
    take = replace(take, 2, heardNote(at(2), 81));
    const attempt = scoreTake(exercise, listeningOf(take));
    expect(attempt.faults.map((fault) => [fault.kind, fault.index])).toEqual([
      ["wrong", 2],
      ["missed", 4],
      ["extra", 6],
      ["flat", 9],
      ["late", 12],
    ]);
    expect(attempt.marks[9]?.cents).toBeCloseTo(-30, 6);
    expect(attempt.marks[12]?.ms).toBeCloseTo(60, 6);
  });

  test("a wrong note names the reeds of this harp that give it", () => {
    // [calc] A5 = 81 is 7 blow's neighbour: on a G harp 6 draw sounds E5, 8 draw A5.
    const attempt = scoreTake(exercise, listeningOf(replace(perfect(), 2, heardNote(at(2), 81))));
    expect(attempt.marks[2]?.heardMidi).toBe(81);
    expect(attempt.marks[2]?.heardAs).toContain("-8");
    expect(attempt.faults[0]?.words).toBe("note 3 (-7): wrong note, heard A5 (-8): neighbour hole");
  });

  test("a wrong note is called as its degree of the home note is", () => {
    // [calc] C mixolydian on an F harp: MIDI 82 is its b7, Bb5 and not A#5 (tonal: C mixolydian has Bb).
    const inC = exerciseOf({ harp: harp("F") });
    const wrong = replace(perfect(inC), 2, heardNote(at(2), 82));
    expect(inC.home).toBe("C");
    expect(scoreTake(inC, listeningOf(wrong)).faults[0]?.words).toContain("heard Bb5");
  });

  test("a sound without a readable pitch is not measured, with the reason", () => {
    const attempt = scoreTake(
      exercise,
      listeningOf(replace(perfect(), 5, heardNote(at(5), null, { unreadable: "too short" }))),
    );
    expect(attempt.marks[5]).toMatchObject({ verdict: "not measured", cents: null, reason: "too short" });
    expect(attempt.summary.notes).toMatchObject({ hit: 14, notMeasured: 1, hitShare: 1 });
  });

  test("a click or a knock is neither a note too many nor the answer to a missed note", () => {
    const click = heardNote(at(5), null, { offSeconds: seconds(at(5) + 0.03), unreadable: "too short" });
    const rumble = heardNote(at(8.5), null, { offSeconds: seconds(at(8.5) + 0.2) });
    const take = [...replace(perfect(), 5, click), rumble].sort((a, b) => a.onSeconds - b.onSeconds);
    const attempt = scoreTake(exercise, listeningOf(take));
    expect(attempt.extras).toEqual([]);
    expect(attempt.faults.map((fault) => [fault.kind, fault.index])).toEqual([["missed", 5]]);
  });

  test("notes after the end of a stopped recording are not measured, those before it are missed", () => {
    const attempt = scoreTake(exercise, listeningOf(perfect().slice(0, 8), at(9.2)));
    expect(attempt.marks.map((mark) => mark.verdict).slice(7, 11)).toEqual([
      "hit",
      "missed",
      "not measured",
      "not measured",
    ]);
    expect(attempt.marks[10]?.reason).toBe("the recording ends before this note");
  });

  test("a take of silence has every note missed and no numbers", () => {
    const attempt = scoreTake(exercise, listeningOf([]));
    expect(attempt.summary.notes).toMatchObject({ missed: 15, hit: 0, hitShare: 0 });
    expect(attempt.summary.intonation).toMatchObject({
      measuredNotes: 0,
      biasCents: null,
      spreadCents: null,
    });
    expect(attempt.summary.timing.biasMs).toBeNull();
  });

  test("a harp at A = 443 is marked against its own pitch", () => {
    const sharp = exerciseOf({ harp: harp("G", 443) });
    const attempt = scoreTake(sharp, listeningOf(perfect(sharp)));
    expect(attempt.summary.intonation.biasCents).toBeCloseTo(0, 6);
    expect(attempt.marks[0]?.heardMidi).toBe(sharp.notes[0]?.midi);
  });
});

describe("the three measures", () => {
  test("intonation is told as mean and sample deviation", () => {
    // [calc] offsets -10, 0, 10 …: mean of -10,0,10 = 0, deviation sqrt(200/2) = 10 for three notes
    const three = perfect()
      .slice(0, 3)
      .map((note, n) => heardNote(note.onSeconds, Number(note.pitchMidi) + (n - 1) / 10));
    const attempt = scoreTake(exercise, listeningOf(three));
    expect(attempt.summary.intonation.biasCents).toBeCloseTo(0, 6);
    expect(attempt.summary.intonation.spreadCents).toBeCloseTo(10, 6);
  });

  test("moving a whole take later changes only the timing bias", () => {
    fc.assert(
      fc.property(fc.double({ min: -0.2, max: 0.2, noNaN: true }), (late) => {
        const attempt = scoreTake(exercise, listeningOf(perfect(exercise, late)));
        expect(attempt.summary.timing.biasMs).toBeCloseTo(1000 * late, 6);
        expect(attempt.summary.timing.spreadMs).toBeCloseTo(0, 6);
        expect(attempt.summary.notes.hit).toBe(15);
        expect(attempt.faults).toEqual([]);
      }),
    );
  });

  test("the measured latency is taken off every onset", () => {
    const settings = { ...USUAL_SETTINGS, latencyMs: milliseconds(80) };
    const attempt = scoreTake(exercise, listeningOf(perfect(exercise, 0.08)), settings);
    expect(attempt.summary.timing.biasMs).toBeCloseTo(0, 6);
    expect(attempt.marks[0]?.onSeconds).toBeCloseTo(at(0) + 0.08, 6);
  });

  test("a steady drag shows as tempo, not as unevenness", () => {
    // [calc] every beat 1 % longer: tempo 1/1.01 of the one asked for, nothing left over
    const slow = exercise.notes.map((note) =>
      heardNote(countInSeconds(exercise) + 1.01 * onsetOf(exercise, note), targetMidi(exercise, note)),
    );
    const { timing } = scoreTake(exercise, listeningOf(slow)).summary;
    expect(timing.tempoRatio).toBeCloseTo(1 / 1.01, 6);
    expect(timing.evennessMs).toBeCloseTo(0, 6);
    expect(Number(timing.spreadMs)).toBeGreaterThan(10);
  });

  test("taking a right note out of a take never raises the share of hits", () => {
    const whole = scoreTake(exercise, listeningOf(perfect())).summary.notes.hitShare;
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 14 }), (place) => {
        const less = scoreTake(exercise, listeningOf(replace(perfect(), place))).summary.notes;
        expect(less.hitShare).toBeLessThan(Number(whole));
        expect(less.missed).toBe(1);
      }),
    );
  });
});

describe("where the take begins", () => {
  test("a recording without count-in is aligned by its notes, and says that no bias can be told", () => {
    const attempt = scoreTake(exercise, listeningOf(perfect(exercise, -countInSeconds(exercise) + 0.4)));
    expect(attempt.start.source).toBe("found");
    expect(attempt.start.beatZeroSeconds).toBeCloseTo(0.4, 3);
    expect(attempt.summary.notes.hit).toBe(15);
    expect(attempt.summary.timing.biasMs).toBeNull();
    expect(attempt.summary.timing.spreadMs).toBeCloseTo(0, 3);
  });

  test("where the recorder knows beat 0, its word counts", () => {
    const settings = { ...USUAL_SETTINGS, beatZeroSeconds: seconds(10) };
    const attempt = scoreTake(
      exercise,
      listeningOf(perfect(exercise, 10 - countInSeconds(exercise) + 0.03)),
      settings,
    );
    expect(attempt.start).toEqual({ beatZeroSeconds: 10, source: "given" });
    expect(attempt.summary.timing.biasMs).toBeCloseTo(30, 6);
  });

  test("a few right notes by chance do not move the start", () => {
    const strays = [heardNote(1, 74), heardNote(9.1, 60), heardNote(11, 61), heardNote(13, 63)];
    expect(scoreTake(exercise, listeningOf(strays)).start.source).toBe("given");
  });

  test("a delay longer than the notes themselves makes no wrong notes, only a bias", () => {
    // Wireless headphones may add 300 ms (fact sheet, section 6 [M]); quavers at minim 112 last 134 ms.
    const fast = exerciseOf({ tempo: { bpm: bpm(112), noteValue: "1/2" }, notesPerBeat: 4 });
    const settings = { ...USUAL_SETTINGS, beatZeroSeconds: countInSeconds(fast) };
    const attempt = scoreTake(fast, listeningOf(perfect(fast, 0.3)), settings);
    expect(attempt.summary.notes.hit).toBe(15);
    expect(attempt.start.source).toBe("given");
    expect(attempt.summary.timing.biasMs).toBeCloseTo(300, 6);
    expect(attempt.faults).toEqual([]);
  });

  test("mistakes are told apart alike, however long the delay", () => {
    const faulty = replace(replace(perfect(), 4), 6, heardNote(at(6), 90));
    const without = scoreTake(exercise, listeningOf(faulty));
    fc.assert(
      fc.property(fc.double({ min: -1.5, max: 1.5, noNaN: true }), (delay) => {
        const late = faulty.map((note) => heardNote(note.onSeconds + delay, note.pitchMidi));
        const settings = { ...USUAL_SETTINGS, beatZeroSeconds: countInSeconds(exercise) };
        const attempt = scoreTake(exercise, listeningOf(late), settings);
        expect(attempt.marks.map((mark) => mark.verdict)).toEqual(without.marks.map((mark) => mark.verdict));
      }),
    );
  });
});
