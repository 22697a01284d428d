import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import type { HeardNote } from "../../../core/listen/listening.ts";
import type { Attempt } from "../../../core/score/attempt.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import { dbfs, midi, seconds } from "../../../core/units.ts";
import { heardNote, listeningOf } from "../../support/listenings.ts";
import { drawExercises } from "./exercises.ts";
import { judge } from "./naming.ts";
import { HIGHEST_KEY, LOWEST_KEY, Reeds } from "./reed-samples.ts";
import { type PlannedTake, Planter, reedsCanPlay } from "./take.ts";

/** Reeds that speak at once and are in tune: a frame every 5 ms at the key's own pitch, each key 2 s after the one before. */
function perfectReeds(): Reeds {
  const keys = Array.from({ length: HIGHEST_KEY - LOWEST_KEY + 1 }, (_, k) => LOWEST_KEY + k);
  const frames = keys.flatMap((key, k) =>
    Array.from({ length: 300 }, (_, i) => ({
      atSeconds: 1 + 2 * k + 0.005 * i,
      hz: 440 * 2 ** ((key - 69) / 12),
    })),
  );
  return new Reeds({ frames, held: keys.map(() => 0.1), attackSeconds: 0 });
}

/** What an ear would tell that misses nothing and mistakes nothing. */
function perfectEar({ performance, score }: PlannedTake): readonly HeardNote[] {
  return performance.line.map((sound): HeardNote => {
    const second = performance.second.find(({ onSeconds }) => onSeconds === sound.onSeconds);
    const length = sound.offSeconds - sound.onSeconds;
    const note = heardNote(sound.onSeconds, sound.pitch, {
      offSeconds: seconds(Math.min(score.endSeconds, sound.offSeconds)),
      settledSeconds: seconds(length * 0.8),
      levelDbfs: dbfs(-20),
    });
    return second === undefined
      ? note
      : { ...note, leak: { pitchMidi: midi(second.pitch), levelDb: second.levelDb } };
  });
}

function marked(planned: PlannedTake): Attempt {
  return scoreTake(planned.exercise, listeningOf(perfectEar(planned)), {
    ...USUAL_SETTINGS,
    beatZeroSeconds: seconds(planned.score.leadSeconds),
  });
}

function plannedTakes(tempo: number): readonly PlannedTake[] {
  const reeds = perfectReeds();
  const planter = new Planter(reeds);
  return drawExercises(12, tempo, seededRandom(tempo), reedsCanPlay(reeds)).map((exercise, place) =>
    planter.plan(exercise, 100 + place),
  );
}

describe.each([90, 160, 224])("faults planted at %d crotchets a minute, heard by a perfect ear", (tempo) => {
  const takes = plannedTakes(tempo);

  it("are named one and all, and nobody else is accused", () => {
    const judged = takes.map((take) => judge(take, marked(take), false));
    const named = judged.flatMap((one, place) =>
      one.named.map((fault) => ({ ...fault, title: takes[place]?.exercise.title })),
    );
    expect(named.length).toBeGreaterThan(60);
    expect(named.filter(({ right }) => !right)).toEqual([]);
    expect(judged.flatMap(({ accused }) => accused)).toEqual([]);
  });
});

describe("a marker that is wrong", () => {
  const [take] = plannedTakes(90);
  if (take === undefined) throw new Error("twelve takes were planned");
  const attempt = marked(take);
  const right = judge(take, attempt, false);

  it("who says nothing has named nothing", () => {
    const silent: Attempt = {
      ...attempt,
      marks: attempt.marks.map((mark) => ({ ...mark, verdict: "hit", diagnosis: null })),
      extras: [],
      faults: [],
    };
    const { named, accused } = judge(take, silent, false);
    const faults = named.filter(({ planted }) => planted !== "ornament");
    expect(faults.length).toBeGreaterThan(2);
    expect(faults.every((one) => !one.right && one.named === "nothing")).toBe(true);
    expect(accused).toEqual([]);
  });

  it("who calls every note missed accuses every clean one", () => {
    const harsh: Attempt = {
      ...attempt,
      marks: attempt.marks.map((mark) => ({ ...mark, verdict: "missed", diagnosis: null })),
      extras: [],
      faults: [],
    };
    const { named, accused } = judge(take, harsh, false);
    expect(accused).toHaveLength(right.clean);
    expect(named.filter((one) => one.right).every(({ planted }) => planted === "missed")).toBe(true);
  });

  it("who adds a second fault to the planted one has not named it", () => {
    const [fault] = right.named.filter(({ planted }) => planted !== "ornament");
    if (fault === undefined) throw new Error("a fault was planted");
    const on = take.score.places[fault.index]?.onSeconds ?? 0;
    const extra = {
      verdict: "extra",
      afterIndex: fault.index,
      heardMidi: midi(40),
      heardAs: [],
      diagnosis: null,
      onSeconds: seconds(on + 0.05),
      offSeconds: seconds(on + 0.1),
    } as const;
    const doubled = judge(take, { ...attempt, extras: [...attempt.extras, extra] }, false);
    expect(doubled.named.find(({ index }) => index === fault.index)?.right).toBe(false);
  });
});
