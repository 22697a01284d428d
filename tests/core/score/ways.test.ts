import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { DrillSpec } from "../../../core/exercise/drill-spec.ts";
import { countInSeconds, targetMidi } from "../../../core/exercise/exercise.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import type { Frame, HeardNote, Listening } from "../../../core/listen/listening.ts";
import { midiToHz } from "../../../core/pitch/equal-temperament.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { wayFor, waysOf } from "../../../core/score/ways.ts";
import { bpm, cents, dbfs, midi, seconds } from "../../../core/units.ts";
import { drill, exerciseOf } from "../../support/drills.ts";
import { listeningOf } from "../../support/listenings.ts";
import { playNotes, sounded } from "../../support/players.ts";

function made(spec: DrillSpec) {
  const exercise = makeDrill(spec);
  if (exercise.kind === "impossible") throw new Error(exercise.reason);
  return exercise.exercise;
}
const longTones = made({
  kind: "long-tones",
  ...drill(),
  direction: "up",
  toneBeats: 4,
  restBeats: 2,
});

const HOP_SECONDS = 0.005;

/** What an ear hears of notes whose pitch moves: cents from the note's own by seconds from its onset. */
function withFrames(notes: readonly HeardNote[], bend: (since: number, length: number) => number): Listening {
  const end = (notes.at(-1)?.offSeconds ?? 0) + 0.2;
  const frames = Array.from({ length: Math.ceil(end / HOP_SECONDS) }, (_, i): Frame => {
    const at = i * HOP_SECONDS;
    const note = notes.find((one) => at >= one.onSeconds && at < one.offSeconds);
    const shared = { atSeconds: seconds(at), clarity: 1, levelDbfs: dbfs(-20) };
    if (note?.pitchMidi == null) return { ...shared, pitchHz: null, voiced: false };
    const off = bend(at - note.onSeconds, note.offSeconds - note.onSeconds);
    return { ...shared, pitchHz: midiToHz(midi(note.pitchMidi + off / 100)), voiced: true };
  });
  return { ...listeningOf(notes, end), frames };
}

describe("played back as an echo", () => {
  test("the beat counts as it does in time: only the way is told apart", () => {
    const exercise = exerciseOf();
    const heard = listeningOf(playNotes(exercise, { fromSeconds: countInSeconds(exercise) + 0.03 }));
    const [echo, inTime] = (["echo", "in time"] as const).map((way) =>
      scoreTake(exercise, heard, { ...USUAL_SETTINGS, way, beatZeroSeconds: countInSeconds(exercise) }),
    );
    expect(echo).toEqual({ ...inTime, way: "echo" });
    expect(echo?.summary.timing.biasMs).toBeCloseTo(30, 6); // [calc] every note 30 ms late
  });
});

describe("at the player's own pace", () => {
  const exercise = exerciseOf();
  const settings = { ...USUAL_SETTINGS, way: "own pace" as const };

  test("nothing is measured from a beat: evenness and tempo are told instead", () => {
    const attempt = scoreTake(
      exercise,
      listeningOf(playNotes(exercise, { fromSeconds: 0.7, stretch: 1.6 })),
      settings,
    );
    expect(attempt.way).toBe("own pace");
    expect(attempt.summary.notes.hit).toBe(15);
    expect(attempt.marks.every((mark) => mark.ms === null && mark.timing === null)).toBe(true);
    expect(attempt.summary.timing.biasMs).toBeNull();
    expect(attempt.summary.timing.evennessShare).toBeCloseTo(0, 6);
    expect(attempt.summary.timing.tempoRatio).toBeCloseTo(1 / 1.6, 6);
    expect(attempt.faults).toEqual([]);
  });

  test("a note held twice as long as written shows in its own length and no other verdict", () => {
    const first = playNotes(exercise, { to: 7 });
    const long = first[6];
    if (long === undefined) throw new Error("a seventh note");
    const rest = playNotes(exercise, { from: 7, fromSeconds: long.onSeconds + 2 * (60 / 90) });
    const attempt = scoreTake(exercise, listeningOf([...first, ...rest]), settings);
    expect(attempt.marks[6]?.lengthShare).toBeGreaterThan(1.5);
    expect(attempt.summary.notes.hit).toBe(15);
    expect(attempt.summary.timing.evennessShare).toBeGreaterThan(0.1);
  });

  test("the tempo may wander from phrase to phrase without being uneven", () => {
    const slow = playNotes(exercise, { to: 8, fromSeconds: 1, stretch: 1.3 });
    const quick = playNotes(exercise, { from: 8, fromSeconds: 1 + 1.3 * 8 * (60 / 90), stretch: 1 });
    const { timing } = scoreTake(exercise, listeningOf([...slow, ...quick]), settings).summary;
    // [calc] each half is even; only the notes about the change differ, by less than the change of 30 %
    expect(timing.evennessShare).toBeLessThan(0.1);
    expect(timing.evennessShare).toBeGreaterThan(0);
  });
});

describe("holding a note", () => {
  const settings = { ...USUAL_SETTINGS, way: "hold" as const };

  test("a steady tone 6 cents sharp is told as that", () => {
    const notes = playNotes(longTones).map((note) => ({
      ...note,
      pitchMidi: midi(Number(note.pitchMidi) + 0.06),
    }));
    const attempt = scoreTake(
      longTones,
      withFrames(notes, () => 0),
      settings,
    );
    expect(attempt.summary.hold?.measuredNotes).toBe(longTones.notes.length);
    expect(attempt.summary.hold?.distanceCents).toBeCloseTo(6, 6);
    expect(attempt.summary.hold?.driftCents).toBeCloseTo(0, 6);
    expect(attempt.summary.hold?.steadinessCents).toBeCloseTo(0, 6);
    expect(attempt.marks.every((mark) => mark.ms === null)).toBe(true);
  });

  test("a tone that sinks by 10 cents a second drifts by what is held of it", () => {
    const attempt = scoreTake(
      longTones,
      withFrames(playNotes(longTones), (since) => -10 * since),
      settings,
    );
    const hold = attempt.marks[0]?.hold;
    // [calc] 4 beats at 90 less the gap of 12 ms is 2.655 s; less 0.1 s of attack and 0.06 s of release, 2.495 s.
    expect(hold?.lengthSeconds).toBeCloseTo(2.655, 2);
    expect(hold?.driftCents).toBeCloseTo(-24.95, 0);
    expect(hold?.steadinessCents).toBeCloseTo(0, 6);
  });

  test("a tremor of 8 cents either way is unsteady by its deviation and does not drift", () => {
    const tremor = (since: number) => 8 * Math.sin(2 * Math.PI * 5 * since);
    const hold = scoreTake(longTones, withFrames(playNotes(longTones), tremor), settings).marks[0]?.hold;
    // [calc] the deviation of a sine is its height over the square root of 2: 5.66
    expect(hold?.steadinessCents).toBeCloseTo(8 / Math.SQRT2, 0);
    expect(Math.abs(hold?.driftCents ?? 99)).toBeLessThan(1.5);
  });

  test("a tone broken off for a moment is one tone with a break", () => {
    const [first, ...rest] = playNotes(longTones);
    if (first === undefined) throw new Error("a first tone");
    const taken = [
      { ...first, offSeconds: seconds(first.onSeconds + 1) },
      { ...first, onSeconds: seconds(first.onSeconds + 1.15) },
      ...rest,
    ];
    const attempt = scoreTake(
      longTones,
      withFrames(taken, () => 0),
      settings,
    );
    expect(attempt.summary.notes).toMatchObject({ hit: longTones.notes.length, extra: 0 });
    expect(attempt.marks[0]?.hold?.breaks).toBe(1);
  });

  test("is offered for long tones and bends; what is called out is played in time only", () => {
    expect(waysOf(longTones)).toEqual(["in time", "own pace", "hold", "echo"]);
    expect(waysOf(exerciseOf())).toEqual(["in time", "own pace", "echo"]);
    expect(waysOf({ ...exerciseOf(), targetAs: "name" })).toEqual(["in time"]);
    expect(wayFor(exerciseOf(), "hold")).toBe("in time");
  });
});

describe("slides", () => {
  const exercise = exerciseOf();

  test("a note begun 60 cents low that arrives after 90 ms is told apart from its pitch", () => {
    const scoop = (since: number) => Math.min(0, -60 + (60 * since) / 0.09);
    const attempt = scoreTake(exercise, withFrames(playNotes(exercise), scoop));
    expect(attempt.marks[3]).toMatchObject({
      cents: expect.closeTo(0, 6),
      intonation: "in tune",
      fall: null,
    });
    expect(attempt.marks[3]?.scoop?.cents).toBeLessThan(-50);
    expect(attempt.marks[3]?.scoop?.cents).toBeGreaterThanOrEqual(-60);
    // [calc] within 8 cents of the pitch after 90 x 52 / 60 = 78 ms
    expect(Math.abs(Number(attempt.marks[3]?.scoop?.ms) - 78)).toBeLessThan(8);
  });

  test("a note that droops at its end is told so", () => {
    const fall = (since: number, length: number) => Math.min(0, (length - since - 0.1) * 500);
    const mark = scoreTake(exercise, withFrames(playNotes(exercise), fall)).marks[3];
    expect(mark?.scoop).toBeNull();
    expect(mark?.fall?.cents).toBeLessThan(-40);
    expect(Math.abs(Number(mark?.fall?.ms) - 84)).toBeLessThan(8); // [calc] 8 cents low 16 ms into the last 100
  });

  test("a vibrato is no slide, and a steady note has none", () => {
    const vibrato = (since: number) => 30 * Math.sin(2 * Math.PI * 5.5 * since - 1.2);
    const wavering = playNotes(exercise).map((note) => ({ ...note, spreadCents: cents(42) }));
    for (const take of [withFrames(wavering, vibrato), withFrames(playNotes(exercise), () => 0)])
      expect(scoreTake(exercise, take).marks.every((mark) => mark.scoop === null && mark.fall === null)).toBe(
        true,
      );
  });
});

describe("a harp whose reeds were measured", () => {
  test("the reed's own offset is taken off and shown apart", () => {
    const plain = exerciseOf();
    const offsets = plain.harp.layout.holes.map((_, hole) => ({
      blow: cents(hole === 5 ? -12 : 0),
      draw: null,
    }));
    const exercise = { ...plain, harp: { ...plain.harp, reedOffsets: offsets } };
    const first = exercise.notes[0];
    if (first?.tab !== "6") throw new Error("the exercise begins on 6 blow");
    const notes = [
      sounded(countInSeconds(exercise), 0.6, targetMidi(exercise, first) - 0.12),
      ...playNotes(exercise).slice(1),
    ];
    const attempt = scoreTake(exercise, listeningOf(notes));
    expect(attempt.marks[0]).toMatchObject({
      cents: expect.closeTo(0, 6),
      reedCents: -12,
      intonation: "in tune",
    });
    expect(attempt.marks.find((mark) => mark.action.breath === "draw")?.reedCents).toBeNull();
    expect(attempt.summary.intonation.reedsTakenOff).toBe(
      exercise.notes.filter((note) => note.action.breath === "blow").length,
    );
  });
});

describe("short notes", () => {
  test("a note too short for its pitch to be judged keeps its cents and says so", () => {
    const fast = exerciseOf({ tempo: { bpm: bpm(120), noteValue: "1/4" }, notesPerBeat: 4 });
    const notes = playNotes(fast).map((note, n) =>
      n === 4
        ? {
            ...note,
            pitchMidi: midi(Number(note.pitchMidi) - 0.35),
            offSeconds: seconds(note.onSeconds + 0.06),
          }
        : note,
    );
    const attempt = scoreTake(fast, listeningOf(notes));
    expect(attempt.marks[4]).toMatchObject({
      verdict: "hit",
      intonation: null,
      reason: "too short for its pitch to be judged",
    });
    expect(attempt.faults).toEqual([]);
    expect(attempt.summary.intonation.measuredNotes).toBe(fast.notes.length - 1);
  });
});

describe("swing", () => {
  const tempo = { bpm: bpm(90), noteValue: "1/4" } as const;
  const swung = exerciseOf({ tempo, notesPerBeat: 2, rhythm: { kind: "swung", ratio: 2 } });

  /** The exercise with its pairs divided otherwise. */
  function playedAt(ratio: number) {
    const beat = 60 / 90;
    return playNotes(swung).map((note, n) => {
      const on = countInSeconds(swung) + beat * (Math.floor(n / 2) + (n % 2 === 0 ? 0 : ratio / (ratio + 1)));
      const length = beat * ((n % 2 === 0 ? ratio : 1) / (ratio + 1));
      return sounded(on, length, note.pitchMidi);
    });
  }

  test.each([
    [2, "as asked"],
    [1.1, "straighter"],
    [3, "more uneven"],
  ] as const)("played %d:1 where 2:1 was asked for: %s", (ratio, judged) => {
    const attempt = scoreTake(swung, listeningOf(playedAt(ratio)));
    expect(attempt.summary.timing.swing).toMatchObject({ asked: expect.closeTo(2, 6), judged });
    expect(attempt.summary.timing.swing?.played).toBeCloseTo(ratio, 6);
    // A habit is told once, as swing: neither as unevenness nor as a fault on every second note.
    // Half of the 6 ms that can just be noticed [F 34]: the straight line of the tempo ends on a long note.
    expect(attempt.summary.timing.evennessMs).toBeLessThan(3);
    expect(attempt.faults).toEqual([]);
  });

  test("dotted pairs are measured as 3:1, even ones not at all", () => {
    const dotted = exerciseOf({ tempo, notesPerBeat: 2, rhythm: { kind: "dotted" } });
    expect(scoreTake(dotted, listeningOf(playNotes(dotted))).summary.timing.swing?.played).toBeCloseTo(3, 6);
    expect(scoreTake(exerciseOf(), listeningOf(playNotes(exerciseOf()))).summary.timing.swing).toBeNull();
  });

  test("too few pairs are not measured, with the reason", () => {
    const { swing } = scoreTake(swung, listeningOf(playedAt(2).slice(0, 5))).summary.timing;
    expect(swing).toMatchObject({ played: null, judged: null, reason: "only 2 pairs were played whole" });
  });
});

describe("laws of the marks", () => {
  const exercise = exerciseOf();
  const take = () => playNotes(exercise);

  test("taking right notes out of a take never raises the share of hits", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 14 }), { maxLength: 6 }),
        fc.array(fc.tuple(fc.integer({ min: 0, max: 14 }), fc.integer({ min: 70, max: 90 })), {
          maxLength: 4,
        }),
        fc.integer({ min: 0, max: 14 }),
        (missed, wrong, out) => {
          const faulty = take().flatMap((note, n) => {
            const other = wrong.find(([place]) => place === n);
            if (missed.includes(n)) return [];
            return [other === undefined ? note : { ...note, pitchMidi: midi(other[1]) }];
          });
          const share = (notes: readonly HeardNote[]) =>
            scoreTake(exercise, listeningOf(notes)).summary.notes.hitShare ?? 0;
          const gone = take()[out]?.onSeconds;
          const right = faulty.find(
            (note) => note.onSeconds === gone && note.pitchMidi === take()[out]?.pitchMidi,
          );
          if (right === undefined) return;
          expect(share(faulty.filter((note) => note !== right))).toBeLessThanOrEqual(share(faulty));
        },
      ),
      { numRuns: 150 },
    );
  });

  test("moving a faulty take by a constant changes the bias and nothing else", () => {
    const faulty = take()
      .filter((_, n) => n !== 9)
      .map((note, n) =>
        n === 4
          ? { ...note, pitchMidi: midi(90) }
          : n === 11
            ? { ...note, onSeconds: seconds(note.onSeconds + 0.05) }
            : note,
      );
    const settings = { ...USUAL_SETTINGS, beatZeroSeconds: countInSeconds(exercise) };
    const still = scoreTake(exercise, listeningOf(faulty), settings);
    fc.assert(
      fc.property(fc.double({ min: -0.3, max: 0.3, noNaN: true }), (by) => {
        const moved = faulty.map((note) => ({
          ...note,
          onSeconds: seconds(note.onSeconds + by),
          offSeconds: seconds(note.offSeconds + by),
        }));
        const attempt = scoreTake(exercise, listeningOf(moved), settings);
        expect(attempt.summary.timing.biasMs).toBeCloseTo(Number(still.summary.timing.biasMs) + 1000 * by, 6);
        expect(attempt.summary.timing.spreadMs).toBeCloseTo(Number(still.summary.timing.spreadMs), 6);
        expect(attempt.summary.timing.evennessMs).toBeCloseTo(Number(still.summary.timing.evennessMs), 6);
        expect(attempt.summary.notes).toEqual(still.summary.notes);
        expect(attempt.summary.intonation).toEqual(still.summary.intonation);
        expect(attempt.faults.map(({ kind, index }) => [kind, index])).toEqual(
          still.faults.map(({ kind, index }) => [kind, index]),
        );
      }),
      { numRuns: 60 },
    );
  });
});
