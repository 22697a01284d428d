import { cleanup, renderHook } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { planTune } from "../../core/exercise/tune-plan.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { planDance } from "../../core/progress/repertoire/repertoire-dance.ts";
import { layTune } from "../../core/progress/repertoire/repertoire-lay.ts";
import { useSetRun } from "../../renderer/app/use-set-run.ts";
import { FIRST_SETTINGS } from "../../renderer/store/settings-store.ts";
import { rulesOf } from "../../renderer/tunes/tune-view.ts";
import type { TuneWork } from "../../renderer/tunes/tune-work.ts";
import { exerciseOf } from "../support/drills.ts";
import { harp } from "../support/harps.ts";
import { readTune } from "../support/tune-drills.ts";

afterEach(cleanup);

const TEXTS: Readonly<Record<string, string>> = {
  one: "X:1\nT:One of Ours\nR:polka\nM:2/4\nL:1/8\nK:D\n|:dA FA|BA d2:|\n",
  two: "X:2\nT:Another of Ours\nR:polka\nM:2/4\nL:1/8\nK:G\n|:gd Bd|ed g2:|\n",
};
const rules = rulesOf(FIRST_SETTINGS);
const wish = {
  harps: [harp("D"), harp("G")],
  octaves: null,
  abilities: PLAIN_AND_BENDS,
  weights: rules.weights,
};

const places = [
  { id: "1", tuneId: "one", title: "One of Ours", times: 2, bpm: 100 },
  { id: "2", tuneId: "gone", title: "Gone", times: 3 },
  { id: "3", tuneId: "two", title: "Another of Ours", times: 3, harp: harp("C") },
];
const set = { id: "s", name: "Polkas", tunes: places, pauseSeconds: 0, breakSeconds: 0 };
const planned = planDance({ id: "l", name: "Autumn dance", sets: [set] }, ({ tuneId, harp: chosen }) => {
  const text = TEXTS[tuneId];
  return text === undefined ? null : layTune(readTune(text), { ...wish, harp: chosen ?? null });
}).sets[0];
if (planned === undefined) throw new Error("the dance has a set");

function run() {
  const world = {
    openTune: async (id: string) => {
      const abc = TEXTS[id];
      return abc === undefined ? null : { id, abc, tune: readTune(abc), voices: [], study: { id } };
    },
    work: { plan: async (setting) => planTune(setting) } as Partial<TuneWork> as TuneWork,
    abilities: PLAIN_AND_BENDS,
    rules,
  };
  return renderHook(() => useSetRun(world)).result.current;
}

const begun = async (its: ReturnType<typeof run>): Promise<Exercise> => {
  const first = await its.begin(planned, "l");
  if (first === null) throw new Error("the first tune can be played");
  return first;
};

describe("practising a set", () => {
  test("each whole tune is played on its harp, at the tempo of the evening and as often as at the dance", async () => {
    const its = run();
    const first = await begun(its);
    expect(first.title).toBe("One of Ours, whole tune");
    expect(first.tempo).toEqual({ noteValue: "1/4", bpm: 100 });
    expect(first.harp.key).toBe("D");
    // [calc] 7 notes in the strain, played twice through with its repeat: 7 * 2 * 2.
    expect(first.notes).toHaveLength(28);
    const next = await its.beside(first, 1);
    expect(next).toMatchObject({ title: "Another of Ours, whole tune", harp: { key: "C" } });
  });

  test("arrows lead over what is no longer there, and stop at both ends", async () => {
    const its = run();
    const first = await begun(its);
    expect(await its.beside(first, -1)).toBeNull();
    const next = await its.beside(first, 1);
    if (next == null) throw new Error("there is another tune");
    expect(await its.beside(next, 1)).toBeNull();
    expect((await its.beside(next, -1))?.title).toBe("One of Ours, whole tune");
  });

  test("after a round the next tune comes, after the last one nothing", async () => {
    const its = run();
    const first = await begun(its);
    const practise = vi.fn();
    const after = its.after(first, practise);
    expect(after?.words).toBe("The next tune");
    after?.begin?.();
    await vi.waitFor(() => expect(practise).toHaveBeenCalledTimes(1));
    const [next] = practise.mock.calls[0] as [Exercise];
    expect(next.title).toBe("Another of Ours, whole tune");
    expect(its.after(next, practise)).toEqual({ words: "That was the last tune of the set.", begin: null });
  });

  test("leads back to its list from its own tunes alone, and to none once it has ended", async () => {
    const its = run();
    const first = await begun(its);
    expect(its.listOf(first)).toBe("l");
    expect(its.listOf(exerciseOf())).toBeNull();
    expect(await its.beside(exerciseOf(), 1)).toBeUndefined();
    expect(its.after(exerciseOf(), () => {})).toBeUndefined();
    its.end();
    expect(its.listOf(first)).toBeNull();
  });
});
