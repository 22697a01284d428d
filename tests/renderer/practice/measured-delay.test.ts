import { expect, test, vi } from "vitest";
import type { DelayInUse } from "../../../core/delay/measured-delays.ts";
import { milliseconds } from "../../../core/units.ts";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendWorld } from "./doubles.ts";

const exercise = exerciseOf();

/** The bias of a perfect take, marked with a delay that is known or not, for the microphone it came through. */
async function takeWith(delay: DelayInUse) {
  const world = new PretendWorld(exercise);
  const asked: string[] = [];
  const session = new PracticeSession(exercise, world.services(), {
    latencyMs: 300, // would be seen at once if it were taken off as well
    beatWhilePlaying: "heard",
    delayOf: (microphone) => {
      asked.push(microphone.deviceName);
      return delay;
    },
  });
  await session.startOrStop();
  await session.startOrStop();
  await vi.waitFor(() => expect(session.getState().kind).toBe("marked"), { timeout: 30_000 });
  const state = session.getState();
  if (state.kind !== "marked") throw new Error(state.kind);
  const { biasMs } = state.attempt.summary.timing;
  return { biasMs: Number(biasMs), unknown: session.isDelayUnknown(), asked };
}

test("the delay measured for the open microphone is taken off, and one not measured is told", async () => {
  const unknown = await takeWith({ kind: "unknown", delayMs: milliseconds(0), others: 1 });
  const byHand = await takeWith({ kind: "by hand", delayMs: milliseconds(40) });
  expect(unknown.biasMs - byHand.biasMs).toBeCloseTo(40, 6); // [calc] the same take
  expect(unknown.unknown).toBe(true);
  expect(byHand.unknown).toBe(false);
  // When the take begins, for one that breaks off, and when it is over.
  expect(byHand.asked).toEqual(["pretend", "pretend"]);
});
