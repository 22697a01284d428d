import { describe, expect, test } from "vitest";
import { type Exercise, lengthOf, onsetOf } from "../../../core/exercise/exercise.ts";
import { checkExercise } from "../../../core/exercise/exercise-json.ts";
import {
  beatOf,
  type TuneSetting,
  tempoIn,
  tuneExercise,
  usualRhythm,
  usualSwing,
} from "../../../core/exercise/tune-exercise.ts";
import { USUAL_RULE } from "../../../core/exercise/tune-ladder.ts";
import { planTune } from "../../../core/exercise/tune-plan.ts";
import { PLAIN_AND_BENDS, PLAIN_ONLY } from "../../../core/instrument/reed-actions.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import type { Plant } from "../../../core/simulate/plants.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { onceThrough } from "../../../core/tune/once-through.ts";
import type { Span } from "../../../core/tune/phrases.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { bpm, ticks } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";
import { SHIPPED_FILES, shippedText } from "../../support/shipped-tunes.ts";
import { tuneDrill, readTune as tuneOf } from "../../support/tune-drills.ts";

const JIG = "X:1\nT:a jig of ours\nR:jig\nM:6/8\nL:1/8\nK:D\n";
const jig = tuneOf(`${JIG}|:A|"D"dAF FED|"G"GBd "A7"e2A|"D"dAF FED|"A"E3 "D"D2:|`);

const wholeOf = (tune: Tune): Span => {
  const last = tune.bars.at(-1);
  return { startTicks: ticks(0), endTicks: ticks((last?.startTicks ?? 0) + (last?.lengthTicks ?? 0)) };
};

function setting(tune: Tune, changes: Partial<TuneSetting> = {}): TuneSetting {
  const on = harp("D");
  const plan = planTune({
    tune,
    harps: [on],
    abilities: PLAIN_AND_BENDS,
    weights: FIRST_WEIGHTS,
    tempo: tune.tempo,
    octaves: null,
    pins: [],
    even: false,
    phraseBars: 4,
    phrases: null,
    rule: USUAL_RULE,
  });
  return {
    tune,
    words: "whole tune",
    span: wholeOf(tune),
    harp: on,
    shift: plan.shift,
    actions: plan.path.actions,
    abilities: PLAIN_AND_BENDS,
    tempo: tune.tempo,
    rhythm: usualRhythm(1),
    countInBeats: 4,
    times: 1,
    ...changes,
  };
}

function made(tune: Tune, changes: Partial<TuneSetting> = {}) {
  const exercise = tuneExercise(setting(tune, changes));
  if (exercise.kind === "impossible") throw new Error(exercise.reason);
  return exercise.exercise;
}

describe("a stretch of a tune as an exercise", () => {
  test("counts dotted crotchets in a jig, minims in a reel, crotchets in a waltz", () => {
    const beats = (head: string) => {
      const { metre, tempo } = tuneOf(`X:1\nT:ours\n${head}\nL:1/8\nK:D\nD4|`);
      return beatOf(metre, tempo);
    };
    expect(
      [
        "M:6/8\nR:jig",
        "M:9/8\nR:slip jig",
        "M:4/4\nR:reel",
        "M:C|\nR:reel",
        "M:3/4\nR:waltz",
        "M:2/4\nR:polka",
      ].map(beats),
    ).toEqual(["3/8", "3/8", "1/2", "1/2", "1/4", "1/4"]);
  });

  test("keeps its speed when it is counted in another note value", () => {
    // [calc] 120 crotchets are 80 dotted crotchets.
    expect(tempoIn({ noteValue: "1/4", bpm: bpm(120) }, "3/8")).toEqual({ noteValue: "3/8", bpm: 80 });
  });

  test("an upbeat stands before the first whole bar, so that bar lines fall on whole bars", () => {
    const exercise = made(jig);
    const [upbeat, first] = exercise.notes;
    // [calc] two beats a bar; the upbeat is the last quaver of the bar before.
    expect(upbeat?.startBeats).toBeCloseTo(5 / 3, 9);
    expect(first?.startBeats).toBeCloseTo(2, 9);
    expect(exercise.beatsPerBar).toBe(2);
    expect(exercise.tempo).toEqual({ noteValue: "3/8", bpm: 116 });
  });

  test("is a file that reads back the same", () => {
    const exercise = made(jig, { rhythm: usualRhythm(1.3), of: { tuneId: "t", rung: "r" } });
    const back = checkExercise(JSON.parse(JSON.stringify(exercise)));
    expect(back).toEqual({ kind: "exercise", exercise });
  });

  test("played twice on end begins again on the same place of the bar", () => {
    const once = made(jig);
    const twice = made(jig, { times: 2 });
    expect(twice.notes).toHaveLength(2 * once.notes.length);
    const [first, again] = [twice.notes[0], twice.notes[once.notes.length]];
    expect(((again?.startBeats ?? 0) - (first?.startBeats ?? 0)) % once.beatsPerBar).toBeCloseTo(0, 9);
  });

  test("three of a jig's quavers swung 3:1 fall at 0, 1/2 and 2/3 of the beat and are written even", () => {
    const exercise = made(jig, { rhythm: usualRhythm(3) });
    const beat = exercise.notes.slice(1, 4).map((note) => note.startBeats - 2);
    // [calc] long, short and medium as 3 : 1 : 2 of six.
    for (const [n, at] of [0, 1 / 2, 2 / 3].entries()) expect(beat[n]).toBeCloseTo(at, 9);
    expect(exercise.notes[2]?.written?.startBeats).toBeCloseTo(2 + 1 / 3, 9);
  });

  test("chord symbols come along, the one that holds at the beginning among them", () => {
    expect(
      made(jig)
        .chords?.map(({ symbol }) => symbol)
        .slice(0, 4),
    ).toEqual(["D", "G", "A7", "D"]);
    const bar = jig.bars[2];
    const span = { startTicks: bar?.startTicks ?? ticks(0), endTicks: wholeOf(jig).endTicks };
    const later = made(jig, { span });
    expect(later.chords?.[0]).toEqual({ startBeats: 0, symbol: "G" });
  });

  test("notes the harp lacks are left out and named; none at all is refused", () => {
    const tune = tuneOf(`${JIG}D^GA DFA|`);
    const exercise = made(
      tune,
      setting(tune, { actions: setting(tune).actions.map((a, n) => (n === 1 ? null : a)) }),
    );
    expect(exercise.notes).toHaveLength(5);
    expect(exercise.trains).toContain("lacks G#4 (bar 1)");
    const none = tuneExercise(setting(tune, { actions: tune.notes.map(() => null) }));
    expect(none).toEqual({ kind: "impossible", reason: "the D harp has none of the notes of whole tune" });
  });

  test("a simulated player's take of a whole reel at dance tempo is marked right but for nothing", () => {
    const band = readAbc(shippedText("village-band"));
    const reel = band.kind === "tunes" ? band.tunes.find(({ dance }) => dance === "reel") : undefined;
    if (reel === undefined) throw new Error("the band has a reel");
    const plan = planTune({ ...planSettingOf(reel), harps: [harp("G"), harp("D"), harp("C"), harp("A")] });
    const exercise = made(reel, { harp: plan.harp, shift: plan.shift, actions: plan.path.actions });
    const { samples } = simulateTake(exercise, { seed: 4, plants: [], sampleRateHz: 48_000 });
    const { summary } = scoreTake(exercise, listenToTake(samples, 48_000));
    expect(summary.notes.wrong + summary.notes.missed).toBe(0);
    expect(summary.notes.hit).toBe(exercise.notes.length);
  });
});

describe("notes of a tune too short for the listening to show", () => {
  const reel = (beats: number) =>
    `X:1\nT:a reel of ours\nM:C|\nR:reel\nL:1/8\nQ:1/2=${beats}\nK:D\n|:d2f2 A2d2|g/f/e/d/ c2 d2A2|B/A/G/F/ E2 F2D2|A/A/A/A/ A2 d4:|`;
  const marked = (exercise: Exercise, seed: number, plants: readonly Plant[] = []) => {
    const { samples } = simulateTake(exercise, { seed, plants, sampleRateHz: 48_000 });
    return scoreTake(exercise, listenToTake(samples, 48_000));
  };

  test("are not measured where they are not heard, with the reason, and none of them is called missed", () => {
    // [calc] semiquavers at minim 130 last 60 / 130 / 8 s = 58 ms.
    const exercise = tuneDrill(reel(130));
    const { marks, summary } = marked(exercise, 1);
    const unheard = marks.filter(({ verdict }) => verdict === "not measured");
    expect(unheard.length).toBeGreaterThan(0);
    for (const { reason } of unheard)
      expect(reason).toBe("a note of 58 ms is too short to be heard for certain");
    // What was not measured counts neither way.
    expect(summary.notes.hitShare).toBe(1);
    expect(summary.notes.hit).toBe(exercise.notes.length - unheard.length);
  });

  test("hide a long note of their own pitch beside them, which is not called missed either", () => {
    // [calc] semiquavers at minim 155 last 60 / 155 / 8 s = 48 ms.
    const { marks, summary } = marked(tuneDrill(reel(155)), 1);
    expect(summary.notes.missed).toBe(0);
    const beside = marks.filter(({ reason }) => reason?.startsWith("beside") === true);
    for (const { reason, verdict } of beside)
      expect([verdict, reason?.replace(/4\d/, "48")]).toEqual([
        "not measured",
        "beside a note of 48 ms on the same pitch",
      ]);
    expect(beside.length).toBeGreaterThan(0);
  });

  test("a long note left out is still a missed one", () => {
    const exercise = tuneDrill(reel(112));
    const left = exercise.notes.findIndex((note) => lengthOf(exercise, note) > 0.15);
    const mark = marked(exercise, 1, [{ kind: "missed", index: left }]).marks[left];
    expect([mark?.verdict, mark?.reason]).toEqual(["missed", null]);
  });
});

const planSettingOf = (tune: Tune) => ({
  tune,
  abilities: PLAIN_ONLY,
  weights: FIRST_WEIGHTS,
  tempo: tune.tempo,
  octaves: null,
  pins: [],
  even: false,
  phraseBars: 4 as const,
  phrases: null,
  rule: USUAL_RULE,
});

describe("a tune once through", () => {
  test("has each written bar once, and later bar lines stay on whole bars past two endings", () => {
    const tune = tuneOf(`${JIG}|:A|dAF FED|1 E3 E2:|2 D3 D2|:F|AFA dFA|d3 d2:|`);
    const { tune: once, from } = onceThrough(tune);
    expect(once.bars.map(({ written }) => written)).toEqual([
      ...new Set(tune.bars.map(({ written }) => written)),
    ]);
    expect(from).toHaveLength(once.notes.length);
    const bar = 6 / 8;
    const barLines = once.bars
      .filter(({ kind }) => kind !== "pick-up")
      .map(({ startTicks }) => startTicks / 161_280);
    // [calc] behind the upbeat of 1/8 bars of 6/8, the first ending filled up.
    for (const at of barLines) expect(((at - 1 / 8) / bar) % 1).toBeCloseTo(0, 9);
  });

  test("holds every written note of the tunes that come along", () => {
    let count = 0;
    for (const file of SHIPPED_FILES) {
      const read = readAbc(shippedText(file));
      if (read.kind !== "tunes") throw new Error(read.reason);
      for (const tune of read.tunes) {
        count++;
        const written = new Set(tune.notes.map((note) => note.written));
        expect([tune.title, onceThrough(tune).tune.notes.length]).toEqual([tune.title, written.size]);
      }
    }
    expect(count).toBeGreaterThanOrEqual(32);
  });
});

test("onsets of a jig at its dance tempo are quavers of 172 ms", () => {
  const exercise = made(jig);
  const [, first, second] = exercise.notes;
  if (first === undefined || second === undefined) throw new Error("there are notes");
  // [calc] 60 / 116 / 3 s
  expect(onsetOf(exercise, second) - onsetOf(exercise, first)).toBeCloseTo(60 / 116 / 3, 6);
});

test("hornpipes are swung as in their drills, jigs lean a little, what is written dotted and reels stay even", () => {
  // [P] common practice: near two to one in a hornpipe.
  expect(usualSwing("hornpipe")).toBe(2);
  expect(usualSwing("jig")).toBeGreaterThan(1);
  expect([usualSwing("reel"), usualSwing("strathspey"), usualSwing(null)]).toEqual([1, 1, 1]);
});

describe("slow and fast", () => {
  const air = "X:1\nT:an air of ours\nM:4/4\nL:1/8\nQ:1/4=40\nK:D\nD2F2 A2d2|f4 d4|";

  test("slower is not lower: the same notes on the same reeds to the same cents, only later and longer", () => {
    const [slow, quick] = [tuneDrill(air, 60), tuneDrill(air, 120)];
    const sounding = ({ notes }: Exercise) =>
      notes.map(({ midi, targetCents, action }) => ({ midi, targetCents, action }));
    expect(sounding(slow)).toEqual(sounding(quick));
    // [calc] half the beats a minute, twice the seconds.
    for (const [place, note] of slow.notes.entries()) {
      const other = quick.notes[place];
      if (other === undefined) throw new Error("as many notes");
      expect(onsetOf(slow, note)).toBeCloseTo(2 * onsetOf(quick, other), 9);
      expect(lengthOf(slow, note)).toBeCloseTo(2 * lengthOf(quick, other), 9);
    }
  });

  test("beyond what a tempo may be is held there, says so with its note value, and reads back as a file", () => {
    // A third of a slow air, and quavers counted in five time.
    const five = "X:1\nT:in five, ours\nM:5/8\nL:1/8\nQ:1/4=140\nK:D\nDEFGA|dcBAG|";
    for (const [exercise, bpmNow, words] of [
      [tuneDrill(air, 13), 30, "held at crotchet = 30, the slowest there is"],
      [tuneDrill(five), 240, "held at quaver = 240, the fastest there is"],
    ] as const) {
      expect(exercise.tempo.bpm).toBe(bpmNow);
      expect(exercise.trains).toContain(words);
      expect(checkExercise(JSON.parse(JSON.stringify(exercise))).kind).toBe("exercise");
    }
    expect(tuneDrill(air, 40).trains).not.toContain("held at");
  });

  test("any span may be looped, as often as asked, and holds only its own notes", () => {
    const tune = tuneOf(air);
    const [from, to] = [tune.notes[1], tune.notes[4]];
    if (from === undefined || to === undefined) throw new Error("there are notes");
    const looped = made(tune, { span: { startTicks: from.startTicks, endTicks: to.startTicks }, times: 3 });
    const once = [from, ...tune.notes.slice(2, 4)].map(({ midi }) => midi);
    expect(looped.notes.map(({ midi }) => midi - (looped.notes[0]?.midi ?? 0) + from.midi)).toEqual([
      ...once,
      ...once,
      ...once,
    ]);
  });
});
