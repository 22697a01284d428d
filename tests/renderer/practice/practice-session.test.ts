import { describe, expect, test, vi } from "vitest";
import { knownReeds } from "../../../core/score/known-reeds.ts";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import type { PracticeState } from "../../../renderer/practice/practice-state.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendWorld } from "./doubles.ts";

const exercise = exerciseOf({ direction: "up" });
const OPTIONS = { latencyMs: 0, beatWhilePlaying: "heard" as const };

function setUp(changes: Parameters<PretendWorld["services"]>[0] = {}) {
  const world = new PretendWorld(exercise);
  const session = new PracticeSession(exercise, world.services(changes), OPTIONS);
  const seen: PracticeState["kind"][] = [];
  session.subscribe(() => {
    if (seen.at(-1) !== session.getState().kind) seen.push(session.getState().kind);
  });
  return { world, session, seen };
}

async function until(session: PracticeSession, kind: PracticeState["kind"]) {
  await vi.waitFor(() => expect(session.getState().kind).toBe(kind), { timeout: 10_000 });
  return session.getState();
}

describe("one exercise being practised", () => {
  test("goes from ready through playing to marks, and is kept", async () => {
    const { world, session, seen } = setUp();
    await session.startOrStop();
    expect(session.getState()).toMatchObject({ kind: "playing", beat: -4 });
    await session.startOrStop();
    const state = await until(session, "marked");
    expect(seen).toEqual(["opening", "playing", "working", "marked"]);
    await vi.waitFor(() =>
      expect(session.getState()).toMatchObject({ keeping: { kind: "kept", id: "id-1" } }),
    );
    if (state.kind !== "marked") throw new Error("marked");
    expect(state.attempt.summary.notes.hit).toBe(exercise.notes.length);
    expect(Math.abs(Number(state.attempt.summary.timing.biasMs))).toBeLessThan(8); // within a just noticeable step [F 34]
    expect((await world.history.list())[0]).toMatchObject({ atEpochMs: 5000, source: "microphone" });
  });

  test("ends by itself after the last note", async () => {
    const { world, session } = setUp();
    await session.startOrStop();
    world.reference?.onEnd?.();
    await until(session, "marked");
  });

  test("starts the take before the count-in, so that the count-in is on it", async () => {
    const { world, session } = setUp();
    await session.startOrStop();
    expect(world.log).toEqual(["open", "start take", "beat"]);
    expect(world.known).toEqual(knownReeds(exercise.harp)); // it listens knowing the harp in hand
  });

  test("a microphone that cannot be had is told in its words", async () => {
    const { world, session } = setUp();
    world.problem = { cause: "none", words: "No microphone was found." };
    await session.startOrStop();
    expect(session.getState()).toMatchObject({ kind: "ready", trouble: "No microphone was found." });
  });

  test("a microphone unplugged in mid-take ends the take and says so", async () => {
    const { world, session } = setUp();
    await session.startOrStop();
    world.unplug();
    expect(session.getState()).toMatchObject({ kind: "broken off", trouble: { kind: "unplugged" } });
    expect(world.log).toContain("hush");
    expect(await world.history.list()).toEqual([]);
  });

  test("hearing the reference can be stopped at once", async () => {
    const { world, session } = setUp();
    await session.hear();
    world.reference?.onNote?.(2);
    expect(session.getState()).toMatchObject({ kind: "hearing", noteIndex: 2 });
    await session.startOrStop();
    expect(session.getState().kind).toBe("ready");
    expect(world.log).toEqual(["reference", "hush"]);
  });

  test("a recording is marked and kept; an unreadable one says why", async () => {
    const { world, session } = setUp();
    await session.markRecording("evening.wav", new ArrayBuffer(8));
    expect(session.getState()).toMatchObject({ kind: "marked", source: "recording" });
    expect(await world.history.list()).toHaveLength(1);
    const broken = setUp({ decodeRecording: async () => ({ kind: "unreadable", reason: "not a WAV file" }) });
    await broken.session.markRecording("notes.txt", new ArrayBuffer(8));
    expect(broken.session.getState()).toEqual({
      kind: "ready",
      trouble: "notes.txt cannot be marked: not a WAV file.",
      awaitsNote: false,
    });
  });

  test("the simulated player is marked and never kept", async () => {
    const { world, session } = setUp();
    await session.simulate();
    expect(session.getState()).toMatchObject({
      kind: "marked",
      source: "simulated",
      keeping: { kind: "not kept" },
    });
    const state = session.getState();
    if (state.kind !== "marked") throw new Error("marked");
    expect(state.attempt.faults).toHaveLength(5);
    expect(await world.history.list()).toEqual([]);
  });

  test("an attempt that cannot be kept stays on the sheet, with the reason", async () => {
    const world = new PretendWorld(exercise);
    vi.spyOn(world.history, "save").mockRejectedValue(new Error("there is no room left on the disk for it"));
    const session = new PracticeSession(exercise, world.services(), OPTIONS);
    await session.markRecording("evening.wav", new ArrayBuffer(8));
    expect(session.getState()).toMatchObject({
      kind: "marked",
      keeping: { kind: "not kept", why: "there is no room left on the disk for it" },
    });
  });

  test("the late answer of an abandoned activity changes nothing", async () => {
    let answer: (value: never) => void = () => {};
    const slow = setUp({
      openMicrophone: () =>
        new Promise((resolve) => {
          answer = resolve as typeof answer;
        }),
    });
    const starting = slow.session.startOrStop();
    slow.session.stop();
    const close = vi.fn();
    answer({ kind: "open", session: { close } } as never);
    await starting;
    expect(slow.session.getState()).toEqual({ kind: "ready", trouble: null, awaitsNote: false });
    expect(close).toHaveBeenCalledOnce();
  });

  test("leaving the screen closes the microphone", async () => {
    const { world, session } = setUp();
    await session.startOrStop();
    session.dispose();
    expect(world.log).toContain("close");
    expect(session.isListening()).toBe(false);
  });

  test("the delay of the sound is taken off", async () => {
    const world = new PretendWorld(exercise);
    const session = new PracticeSession(exercise, world.services(), { ...OPTIONS, latencyMs: 50 });
    await session.startOrStop();
    await session.startOrStop();
    const state = await until(session, "marked");
    if (state.kind !== "marked") throw new Error("marked");
    expect(Number(state.attempt.summary.timing.biasMs)).toBeLessThan(-40); // [calc] 50 ms less than the perfect take's few
  });

  test("at the player's own pace there is no beat: the take begins at once and ends with Space", async () => {
    const world = new PretendWorld(exercise);
    const session = new PracticeSession(exercise, world.services(), { ...OPTIONS, way: "own pace" });
    await session.startOrStop();
    expect(session.getState()).toMatchObject({ kind: "playing", beat: null, noteIndex: null });
    expect(world.log).toEqual(["open", "start take"]);
    await session.startOrStop();
    const state = await until(session, "marked");
    if (state.kind !== "marked") throw new Error("marked");
    expect(state.attempt.way).toBe("own pace");
    expect(state.attempt.summary.notes.hit).toBe(exercise.notes.length);
    expect(state.attempt.marks.every((mark) => mark.ms === null)).toBe(true);
  });

  test("a way the exercise cannot be played falls back to in time", () => {
    const world = new PretendWorld(exercise);
    const session = new PracticeSession(exercise, world.services(), { ...OPTIONS, way: "hold" });
    expect(session.way).toBe("in time");
  });
});
