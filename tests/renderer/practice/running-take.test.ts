import { describe, expect, test, vi } from "vitest";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import type { HistoryStore } from "../../../renderer/store/history-store.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendWorld } from "./doubles.ts";

const exercise = exerciseOf({ direction: "up" });
/** The pretended context's rate, and the frame of its clock at the first sample: 100 s in. */
const [RATE_HZ, FIRST_FRAME] = [44_100, 4_410_000];

async function playing(options: Partial<ConstructorParameters<typeof PracticeSession>[2]> = {}) {
  const world = new PretendWorld(exercise);
  const saved: Parameters<HistoryStore["save"]>[] = [];
  const save = world.history.save.bind(world.history);
  world.history.save = (...args) => {
    saved.push(args);
    return save(...args);
  };
  const session = new PracticeSession(exercise, world.services(), {
    latencyMs: 37,
    beatWhilePlaying: "heard",
    ...options,
  });
  await session.startOrStop();
  expect(session.getState().kind).toBe("playing");
  const piece = () =>
    world.piece({ firstFrame: FIRST_FRAME, samples: new Float32Array(2 * RATE_HZ).fill(0.1) });
  return { world, session, saved, piece, kept: () => [...world.running.takes.values()] };
}

describe("the running take of a practice session", () => {
  test("is written with all that marking needs, where beat 0 lies among it", async () => {
    const { piece, kept } = await playing();
    piece();
    expect(kept()).toHaveLength(1);
    expect(kept()[0]?.head).toEqual({
      atEpochMs: 5000,
      zone: "Europe/Dublin",
      exercise,
      way: "in time",
      latencyMs: 37,
      sampleRateHz: RATE_HZ,
      // [calc] the reference begins four beats at 90 a minute after second 100 of the clock.
      beatZeroSeconds: expect.closeTo(4 * (60 / 90), 9),
    });
  });

  test("has the delay of the microphone that hears, where that was measured", async () => {
    const { piece, kept } = await playing({
      delayOf: () => ({ kind: "measured", delayMs: 81 }) as never,
    });
    piece();
    expect(kept()[0]?.head.latencyMs).toBe(81);
  });

  test("goes with the attempt it becomes, and no piece comes after it", async () => {
    const { world, session, saved, piece, kept } = await playing();
    piece();
    await session.startOrStop();
    await vi.waitFor(() => expect(session.getState()).toMatchObject({ keeping: { kind: "kept" } }), {
      timeout: 10_000,
    });
    expect(saved.map(([, how]) => how)).toEqual([{ running: [...world.running.takes.keys()][0] }]);
    piece();
    expect(kept()[0]?.pieces).toHaveLength(1);
  });

  test("is thrown away where the player stops, leaves, or begins anew before it is over", async () => {
    const stopped = await playing();
    stopped.piece();
    stopped.session.stop();
    await vi.waitFor(() => expect(stopped.kept()).toEqual([]));
    const left = await playing();
    left.piece();
    left.session.dispose();
    await vi.waitFor(() => expect(left.kept()).toEqual([]));
  });

  test("leaves nothing behind over rounds that begin by themselves", async () => {
    vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout", "setInterval", "clearInterval"] });
    try {
      const { world, session, saved, piece } = await playing({ againAfterSeconds: 1 });
      for (let round = 1; round <= 3; round++) {
        piece();
        world.reference?.onEnd?.();
        await vi.waitFor(async () => {
          await vi.advanceTimersByTimeAsync(400);
          expect(saved).toHaveLength(round);
        }, 20_000);
        await vi.waitFor(async () => {
          await vi.advanceTimersByTimeAsync(400);
          expect(session.getState().kind).toBe("playing");
        }, 20_000);
      }
      // Each went with its own attempt.
      expect(new Set(saved.map(([, how]) => how?.running)).size).toBe(3);
      session.stop();
    } finally {
      vi.useRealTimers();
    }
  });
});
