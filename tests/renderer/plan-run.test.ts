import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { type KeptPlan, keptPlan, lineState } from "../../core/progress/plan/plan-kept.ts";
import {
  lineName,
  type PlanLine,
  type PlanPart,
  type PlayedLine,
} from "../../core/progress/plan/plan-shape.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import { PlanRun } from "../../renderer/app/plan-run.ts";
import type { RunWorld } from "../../renderer/app/plan-run-state.ts";
import { PracticeSession } from "../../renderer/practice/practice-session.ts";
import { exerciseOf } from "../support/drills.ts";
import { PretendWorld } from "./practice/doubles.ts";

const exercise = exerciseOf({ direction: "up" });
/** Between pressing nothing and the first take, and between marks and what comes next. */
const LOOK_MS = 5000;
const PAUSE_MS = 4000;

const part = (item: string): PlanPart => ({
  item,
  title: `The ${item}`,
  harp: "G harp",
  recipe: { kind: "attempt", id: item },
  why: "a reason",
});
const line = (kind: PlayedLine["kind"], minutes: number, ...items: string[]): PlayedLine => ({
  kind,
  number: 1,
  minutes,
  parts: items.map(part),
  turns: "mixed",
  why: "a reason",
});
const rest: PlanLine = { kind: "rest", number: 1, minutes: 0.2, why: "a rest" };

const planOf = (lines: readonly PlanLine[]) =>
  keptPlan({ day: "2026-11-28" as PracticeDay, minutes: 5, lines });

function setUp(from: readonly PlanLine[] | KeptPlan, changes: Partial<RunWorld> = {}) {
  const pretend = new PretendWorld(exercise);
  const kept: KeptPlan[] = [];
  const opened: string[] = [];
  const run = new PlanRun("plan" in from ? from : planOf(from), {
    exerciseOf: async ({ item }) => {
      opened.push(item);
      return { kind: "exercise", exercise: { ...exercise, title: item } };
    },
    newSession: (made, afterRound, how) =>
      new PracticeSession(made, pretend.services(), {
        latencyMs: 0,
        beatWhilePlaying: "seen",
        againAfterSeconds: PAUSE_MS / 1000,
        afterRound,
        ...how,
      }),
    begins: () => "key",
    swapped: () => null,
    keep: (one) => void kept.push(one),
    ...changes,
  });
  const moment = () => run.getState().moment;
  const session = () => {
    const now = moment();
    if (now.kind !== "playing") throw new Error(`the run is ${now.kind}`);
    return now.session;
  };
  /** The exercise is played to its end and marked. */
  const playToTheEnd = async () => {
    pretend.reference?.onEnd?.();
    await vi.advanceTimersByTimeAsync(1000);
  };
  return { run, pretend, kept, opened, moment, session, playToTheEnd };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => vi.useRealTimers());

describe("a plan that runs", () => {
  test("goes from line to line without a hand, rests between, and ends", async () => {
    const { run, pretend, kept, opened, moment, session, playToTheEnd } = setUp([
      line("warm-up", 0.2, "tones"),
      rest,
      line("due", 0.2, "phrase"),
    ]);
    run.start();
    await vi.advanceTimersByTimeAsync(0);
    expect(moment()).toMatchObject({ kind: "playing", beginsInSeconds: 5 });
    expect(pretend.log).toEqual([]);
    await vi.advanceTimersByTimeAsync(LOOK_MS);
    expect(session().getState().kind).toBe("playing");
    // [calc] 0.2 minutes are 12 s: 5 before the take and 6 of it, then 1 of marks
    await vi.advanceTimersByTimeAsync(6000);
    await playToTheEnd();
    expect(session().getState()).toMatchObject({ kind: "marked", afterWords: "A rest" });
    await vi.advanceTimersByTimeAsync(PAUSE_MS);
    expect(moment()).toMatchObject({ kind: "resting", staying: false });
    expect(pretend.log.at(-1)).toBe("close");
    await vi.advanceTimersByTimeAsync(12_000);
    expect(moment()).toMatchObject({ kind: "playing", line: { kind: "due" } });
    await vi.advanceTimersByTimeAsync(LOOK_MS + 6000);
    await playToTheEnd();
    expect(session().getState()).toMatchObject({ afterWords: "The end of the plan" });
    await vi.advanceTimersByTimeAsync(PAUSE_MS);
    expect(moment()).toEqual({ kind: "over" });
    expect(pretend.log.at(-1)).toBe("close");
    expect(opened).toEqual(["tones", "phrase"]);
    expect(lineState(kept.at(-1) ?? run.getState().kept, "due 1")).toMatchObject({ state: "done", takes: 1 });
    const before = pretend.log.length;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(pretend.log).toHaveLength(before);
  });

  test("never ends a line in the middle of a take, and plays the same again while there is time", async () => {
    const { run, moment, session, playToTheEnd } = setUp([line("due", 1, "phrase"), line("new", 1, "next")]);
    run.start();
    await vi.advanceTimersByTimeAsync(LOOK_MS + 10_000);
    await playToTheEnd();
    expect(session().getState()).toMatchObject({ kind: "marked", againInSeconds: 4, afterWords: null });
    await vi.advanceTimersByTimeAsync(PAUSE_MS);
    expect(session().getState().kind).toBe("playing");
    await vi.advanceTimersByTimeAsync(300_000);
    expect(session().getState().kind).toBe("playing");
    expect(moment()).toMatchObject({ line: { kind: "due" } });
    await playToTheEnd();
    await vi.advanceTimersByTimeAsync(PAUSE_MS);
    expect(moment()).toMatchObject({ line: { kind: "new" } });
  });

  test("takes the parts of a line in turn, and opens each once", async () => {
    const { run, opened, session, playToTheEnd } = setUp([line("due", 5, "one", "two")]);
    run.start();
    const heard: string[] = [];
    for (let take = 0; take < 3; take++) {
      await vi.advanceTimersByTimeAsync(LOOK_MS);
      heard.push(session().exercise.title);
      await playToTheEnd();
      await vi.advanceTimersByTimeAsync(PAUSE_MS);
    }
    expect(heard).toEqual(["one", "two", "one"]);
    expect(opened).toEqual(["one", "two"]);
  });

  test("stands still while the player stays with the marks", async () => {
    const { run, session, playToTheEnd } = setUp([line("due", 0.5, "phrase"), line("new", 1, "next")]);
    run.start();
    await vi.advanceTimersByTimeAsync(LOOK_MS + 2000);
    await playToTheEnd();
    session().stay();
    const seconds = () => lineState(run.getState().kept, "due 1").seconds;
    const before = seconds();
    await vi.advanceTimersByTimeAsync(120_000);
    expect(seconds()).toBe(before);
    expect(session().getState().kind).toBe("marked");
  });

  test("stays in a rest with one key and leaves it with the next", async () => {
    const { run, moment, playToTheEnd } = setUp([
      line("warm-up", 0.1, "tones"),
      rest,
      line("due", 1, "phrase"),
    ]);
    run.start();
    await vi.advanceTimersByTimeAsync(LOOK_MS + 3000);
    await playToTheEnd();
    await vi.advanceTimersByTimeAsync(PAUSE_MS);
    run.startOrStay();
    await vi.advanceTimersByTimeAsync(60_000);
    expect(moment()).toMatchObject({ kind: "resting", staying: true });
    run.startOrStay();
    await vi.advanceTimersByTimeAsync(0);
    expect(moment()).toMatchObject({ kind: "playing", line: { kind: "due" } });
  });

  test("a line is skipped, made longer or swapped on the way", async () => {
    const { run, moment, kept, opened } = setUp(
      [line("warm-up", 2, "tones"), rest, line("due", 2, "phrase")],
      {
        swapped: (one, name) => ({
          ...one,
          plan: {
            ...one.plan,
            lines: one.plan.lines.map((each) =>
              lineName(each) === name && each.kind !== "rest" ? { ...each, parts: [part("other")] } : each,
            ),
          },
        }),
      },
    );
    run.start();
    await vi.advanceTimersByTimeAsync(0);
    run.skip();
    await vi.advanceTimersByTimeAsync(0);
    // Nobody rests who has not played.
    expect(moment()).toMatchObject({ kind: "playing", line: { kind: "due" } });
    run.lengthen();
    expect(moment()).toMatchObject({ line: { minutes: 4 } });
    run.swap();
    await vi.advanceTimersByTimeAsync(0);
    expect(opened).toEqual(["tones", "phrase", "other"]);
    expect(kept.at(-1)?.lines["warm-up 1"]).toMatchObject({ state: "skipped" });
    expect(kept.at(-1)?.plan.lines.at(-1)).toMatchObject({ minutes: 4, parts: [{ item: "other" }] });
  });

  test("is left and taken up again where it was", async () => {
    const first = setUp([line("warm-up", 0.2, "tones"), line("due", 1, "phrase")]);
    first.run.start();
    await vi.advanceTimersByTimeAsync(LOOK_MS + 8000);
    await first.playToTheEnd();
    await vi.advanceTimersByTimeAsync(PAUSE_MS + 3000);
    first.run.leave();
    const left = first.kept.at(-1);
    if (left === undefined) throw new Error("nothing was kept");
    expect(left.lines).toMatchObject({ "warm-up 1": { state: "done" }, "due 1": { state: "open" } });
    expect(lineState(left, "due 1").seconds).toBeGreaterThan(0);
    const before = first.pretend.log.length;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(first.pretend.log).toHaveLength(before);
    const second = setUp(left);
    second.run.start();
    await vi.advanceTimersByTimeAsync(0);
    expect(second.opened).toEqual(["phrase"]);
    expect(second.moment()).toMatchObject({ line: { kind: "due" }, beginsInSeconds: 5 });
  });

  test("waits where a take held no sound, instead of recording silence without end", async () => {
    const { run, pretend, session } = setUp([line("due", 5, "phrase")]);
    run.start();
    await vi.advanceTimersByTimeAsync(LOOK_MS);
    pretend.take = () => ({ samples: new Float32Array(44_100), sampleRateHz: 44_100 }) as never;
    pretend.reference?.onEnd?.();
    await vi.advanceTimersByTimeAsync(1000);
    expect(session().getState()).toMatchObject({ kind: "marked", againInSeconds: null });
    expect(session().getState()).toMatchObject({ afterWords: expect.stringContaining("Nothing was heard") });
    await vi.advanceTimersByTimeAsync(60_000);
    expect(session().getState().kind).toBe("marked");
  });

  test("passes over what cannot be played, and says why", async () => {
    const { run, moment } = setUp([line("due", 2, "gone", "there")], {
      exerciseOf: async ({ item }) =>
        item === "gone"
          ? { kind: "impossible", reason: "that attempt is no longer in the history" }
          : { kind: "exercise", exercise },
    });
    run.start();
    await vi.advanceTimersByTimeAsync(0);
    expect(moment()).toMatchObject({
      kind: "stuck",
      words: "The gone cannot be played: that attempt is no longer in the history.",
    });
    await vi.advanceTimersByTimeAsync(8000);
    expect(moment()).toMatchObject({ kind: "playing", part: { item: "there" } });
  });

  test("lets a note held begin where that is set, and goes on when the minutes are up and nobody plays", async () => {
    const { run, moment, session } = setUp([line("due", 0.5, "phrase"), line("new", 1, "next")], {
      begins: () => "held note",
      newSession: (made, afterRound) =>
        new PracticeSession(made, new PretendWorld(exercise).services(), {
          latencyMs: 0,
          beatWhilePlaying: "seen",
          begin: "held note",
          afterRound,
        }),
    });
    run.start();
    await vi.advanceTimersByTimeAsync(0);
    expect(moment()).toMatchObject({ beginsInSeconds: null });
    // The sheet does this when it is shown.
    await session().awaitNote();
    await vi.advanceTimersByTimeAsync(29_000);
    expect(moment()).toMatchObject({ line: { kind: "due" } });
    await vi.advanceTimersByTimeAsync(1000);
    expect(moment()).toMatchObject({ line: { kind: "new" } });
  });

  test("lets a rung of a tune that is new be heard before it begins, and only the first time", async () => {
    const rung: PlayedLine = {
      ...line("new", 5),
      parts: [{ ...part("rung"), recipe: { kind: "tune", tuneId: "x", rung: "phrase 0-80 at 60 %" } }],
    };
    const { run, pretend, moment, session, playToTheEnd } = setUp([rung]);
    run.start();
    await vi.advanceTimersByTimeAsync(0);
    expect(pretend.log).toEqual(["reference"]);
    expect(moment()).toMatchObject({ beginsInSeconds: null });
    await vi.advanceTimersByTimeAsync(20_000);
    expect(session().getState().kind).toBe("hearing");
    pretend.reference?.onEnd?.();
    expect(moment()).toMatchObject({ beginsInSeconds: 5 });
    await vi.advanceTimersByTimeAsync(LOOK_MS);
    expect(session().getState().kind).toBe("playing");
    await playToTheEnd();
    await vi.advanceTimersByTimeAsync(PAUSE_MS);
    expect(pretend.log.filter((one) => one === "reference")).toHaveLength(1);
  });

  test("begins at once where the player does, and waits for him where the microphone fails", async () => {
    const { run, pretend, moment, session } = setUp([line("due", 5, "phrase")]);
    run.start();
    await vi.advanceTimersByTimeAsync(1000);
    await session().startOrStop();
    expect(moment()).toMatchObject({ beginsInSeconds: null });
    expect(session().getState().kind).toBe("playing");
    const failing = setUp([line("due", 5, "phrase")]);
    failing.pretend.problem = { kind: "denied", words: "The microphone is not allowed." } as never;
    failing.run.start();
    await vi.advanceTimersByTimeAsync(LOOK_MS + 60_000);
    expect(failing.session().getState()).toMatchObject({
      kind: "ready",
      trouble: "The microphone is not allowed.",
    });
    expect(failing.pretend.log).toEqual(["open"]);
    expect(pretend.log).toContain("start take");
  });

  test("keeps a tempo the player has set, for all turns of that part", async () => {
    const { run, session, playToTheEnd } = setUp([line("due", 5, "one", "two")]);
    run.start();
    await vi.advanceTimersByTimeAsync(0);
    run.practise({ ...session().exercise, title: "one, slower" });
    const heard: string[] = [];
    for (let take = 0; take < 3; take++) {
      await vi.advanceTimersByTimeAsync(LOOK_MS);
      heard.push(session().exercise.title);
      await playToTheEnd();
      await vi.advanceTimersByTimeAsync(PAUSE_MS);
    }
    expect(heard).toEqual(["one, slower", "two", "one, slower"]);
  });
});
