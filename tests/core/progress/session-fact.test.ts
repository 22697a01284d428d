import { describe, expect, test } from "vitest";
import { harpKeyOf, itemOf, likeOf, tempoBandOf } from "../../../core/progress/counts/likeness.ts";
import { measureValue } from "../../../core/progress/counts/measured.ts";
import { pairOf } from "../../../core/progress/counts/reed-counts.ts";
import { factOf } from "../../../core/progress/counts/session-fact.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { bpm, hz, milliseconds, seconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";
import { heardNote, listeningOf } from "../../support/listenings.ts";

/** D mixolydian up and down on a G harp: 15 notes of a crotchet at 90, each 5 cents sharp and 20 ms late but the last, left out. */
const exercise = exerciseOf();
const beat = 60 / 90;
const settings = { ...USUAL_SETTINGS, beatZeroSeconds: seconds(0) };
const heard = exercise.notes.slice(0, -1).map((note) =>
  heardNote(note.startBeats * beat + 0.02, note.midi + 0.05, {
    offSeconds: seconds((note.startBeats + 0.9) * beat),
  }),
);
const attempt = scoreTake(exercise, listeningOf(heard), settings);
const kept = {
  id: "one",
  atEpochMs: Date.parse("2026-11-01T02:00Z"),
  zone: "Europe/Dublin",
  exercise,
  attempt,
};

describe("what progress knows of an attempt", () => {
  const fact = factOf(kept);

  test("is its day in the player's zone, its notes, cents and milliseconds", () => {
    expect(exercise.notes).toHaveLength(15);
    expect(fact.day).toBe("2026-10-31");
    expect(fact.measured.notes).toMatchObject({ expected: 15, hit: 14, wrong: 0, missed: 1 });
    // 0.1: what rounding to tenths can move.
    expect(measureValue("intonation bias", fact.measured)).toBeCloseTo(5, 1);
    expect(measureValue("timing bias", fact.measured)).toBeCloseTo(20, 1);
    expect(measureValue("timing spread", fact.measured)).toBeCloseTo(0, 1);
    // [calc] 14/15
    expect(measureValue("notes right", fact.measured)).toBeCloseTo(14 / 15, 12);
  });

  test("agrees with the attempt's own summary to the tenth it keeps", () => {
    const { intonation, timing } = attempt.summary;
    const { measured } = fact;
    expect(measureValue("intonation bias", measured)).toBeCloseTo(intonation.biasCents ?? Number.NaN, 1);
    expect(measureValue("timing bias", measured)).toBeCloseTo(timing.biasMs ?? Number.NaN, 1);
    expect(measureValue("evenness", measured)).toBeCloseTo(timing.evennessMs ?? Number.NaN, 1);
  });

  test("counts every note with its reed action, and with the one before it where that differs", () => {
    const total = (table: typeof fact.reeds) =>
      Object.values(table).reduce((sum, { asked }) => sum + asked, 0);
    expect(total(fact.reeds)).toBe(15);
    const changes = exercise.notes.filter(
      (note, n) => n > 0 && note.tab !== exercise.notes[n - 1]?.tab,
    ).length;
    expect(changes).toBeGreaterThan(0);
    expect(total(fact.pairs)).toBe(changes);
    const [first, second] = [exercise.notes[0]?.tab, exercise.notes[1]?.tab];
    expect(Object.keys(fact.pairs).map(pairOf)).toContainEqual([first, second]);
    const missed = exercise.notes.at(-1)?.tab ?? "";
    expect(fact.reeds[missed]?.missed).toBe(1);
    expect(fact.reeds[missed]?.troubled).toBe(1);
  });

  test("a recording whose beginning was found from its notes has no bias and is compared with none that has", () => {
    const found = scoreTake(
      exercise,
      listeningOf(
        heard.map((note) => ({
          ...note,
          onSeconds: seconds(note.onSeconds + 3),
          offSeconds: seconds(note.offSeconds + 3),
        })),
      ),
    );
    const other = factOf({ ...kept, attempt: { ...found, start: { ...found.start, source: "found" } } });
    expect(measureValue("timing bias", other.measured)).toBeNull();
    expect(other.group).not.toBe(fact.group);
  });
});

describe("only like is compared with like", () => {
  const group = (changes: Parameters<typeof exerciseOf>[0], attemptChanges = {}) =>
    factOf({ ...kept, exercise: exerciseOf(changes), attempt: { ...attempt, ...attemptChanges } }).group;
  const own = group({});

  test.each([
    ["another mode", { mode: "dorian" as const }, {}],
    ["another position", { position: 1 as const }, {}],
    ["another direction", { direction: "up" as const }, {}],
    ["a tempo a fifth faster", { tempo: { bpm: bpm(108), noteValue: "1/4" as const } }, {}],
    ["another note value", { tempo: { bpm: bpm(90), noteValue: "1/2" as const } }, {}],
    ["another harp", { harp: harp("A") }, {}],
    ["the same harp at another A", { harp: { ...harp("G"), a4: hz(442) } }, {}],
    ["another delay setting", {}, { latencyMs: milliseconds(120) }],
    ["another way to play", {}, { way: "echo" as const }],
  ])("%s is not alike", (_, changes, attemptChanges) => {
    expect(group(changes, attemptChanges)).not.toBe(own);
  });

  test("a little more tempo and a delay measured again are alike", () => {
    // [calc] band of 90: 20 × 1.1^15 = 83.5 to 20 × 1.1^16 = 91.9
    expect(tempoBandOf({ bpm: bpm(90), noteValue: "1/4" })).toEqual({
      noteValue: "1/4",
      fromBpm: 83.5,
      toBpm: 91.9,
    });
    expect(group({ tempo: { bpm: bpm(91), noteValue: "1/4" } })).toBe(own);
    expect(group({}, { latencyMs: milliseconds(3) })).toBe(own);
  });

  test("every tempo lies in its band, and bands meet", () => {
    for (let tempo = 30; tempo <= 240; tempo += 0.1) {
      const band = tempoBandOf({ bpm: bpm(tempo), noteValue: "1/4" });
      expect(band.fromBpm).toBeLessThanOrEqual(tempo);
      expect(band.toBpm).toBeGreaterThan(tempo);
      expect(tempoBandOf({ ...band, bpm: band.toBpm }).fromBpm).toBe(band.toBpm);
    }
  });

  test("seed and repeats make no other drill; the stretch of a tune is named by its place", () => {
    const random = {
      ...exercise,
      kind: "random-notes" as const,
      parameters: { seed: 1, count: 20, targetAs: "name" },
    };
    expect(itemOf(random)).toBe(
      itemOf({ ...random, parameters: { ...random.parameters, seed: 2, count: 30 } }),
    );
    const tune = (parameters: typeof exercise.parameters) =>
      itemOf({ ...exercise, kind: "tune", parameters });
    const stretch = { tuneId: "abc", startTicks: 0, endTicks: 80, times: 1, rung: "slow" };
    expect(tune(stretch)).toBe(tune({ ...stretch, times: 2, rung: "fast" }));
    expect(tune(stretch)).not.toBe(tune({ ...stretch, endTicks: 160 }));
  });

  test("a rung of a tune below the dance tempo is something of its own", () => {
    const tune = (rung: string) =>
      itemOf({ ...exercise, kind: "tune", parameters: { tuneId: "abc", startTicks: 0, endTicks: 80, rung } });
    expect(tune("whole tune 0-80 at 80 %")).not.toBe(tune("whole tune 0-80 at 90 %"));
    expect(tune("whole tune 0-80 at 100 %")).toBe(tune(""));
  });

  test("likeness says what was compared", () => {
    expect(likeOf(exercise, attempt)).toMatchObject({
      way: "in time",
      delayMs: 0,
      harp: harpKeyOf(exercise.harp),
    });
  });
});
