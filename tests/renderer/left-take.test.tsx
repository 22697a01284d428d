import { cleanup, render, screen, waitFor } from "@testing-library/react";
import { afterEach, describe, expect, test } from "vitest";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import { scoreTake, USUAL_SETTINGS } from "../../core/score/score-take.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { milliseconds, seconds } from "../../core/units.ts";
import { LeftTakeNotice } from "../../renderer/app/left-take-notice.tsx";
import { type LeftTakeServices, useLeftTakes } from "../../renderer/app/use-left-takes.ts";
import { MemoryHistoryStore } from "../../renderer/store/memory-history-store.ts";
import { exerciseOf } from "../support/drills.ts";
import { MemoryRunningTakes } from "./memory-running-takes.ts";

afterEach(cleanup);

const exercise = exerciseOf({ direction: "up" });
const RATE_HZ = 16_000;
/** [calc] four beats of count-in at 90 a minute. */
const BEAT_ZERO_SECONDS = 4 * (60 / 90);

/** A world in which a take of the simulated player was cut off after so many seconds. */
async function cutOff(playedSeconds: number, changes: Partial<LeftTakeServices> = {}) {
  const { samples } = simulateTake(exercise, { seed: 5, plants: [], sampleRateHz: RATE_HZ });
  const recorded = samples.slice(0, Math.round((BEAT_ZERO_SECONDS + playedSeconds) * RATE_HZ));
  const runningTakes = new MemoryRunningTakes();
  const running = runningTakes.begin();
  const head = {
    atEpochMs: 1_790_000_000_000,
    zone: "Europe/Dublin",
    exercise,
    way: "in time" as const,
    latencyMs: 9,
    sampleRateHz: RATE_HZ,
    beatZeroSeconds: BEAT_ZERO_SECONDS,
  };
  await running.add(head, recorded);
  running.leave();
  const history = new MemoryHistoryStore(() => "kept");
  const services: LeftTakeServices = {
    runningTakes,
    history,
    nowEpochMs: () => 1_790_000_060_000,
    listenInWorker: async (take, rate, options) =>
      listenToTake(take, rate, undefined, options?.known ?? null),
    marking: {
      mark: async (asked, listening, settings) => scoreTake(asked, listening, settings),
      rehearse: async () => {},
    },
    ...changes,
  };
  return { recorded, runningTakes, history, services };
}

function Offer({ services, onMarked }: { services: LeftTakeServices; onMarked: (id: string) => void }) {
  const left = useLeftTakes(services, "today", onMarked);
  return left.state === null ? <p>Nothing is offered</p> : <LeftTakeNotice {...left} state={left.state} />;
}

describe("a take that was cut off", () => {
  test("is offered in one sentence, and marked it is an attempt of its own time with what it did not get to not measured", async () => {
    const { recorded, history, services } = await cutOff(2.4);
    const marked: string[] = [];
    render(<Offer services={services} onMarked={(id) => void marked.push(id)} />);
    const words = await screen.findByText(
      /^A take of “D mixolydian scale, one octave, up”, .*, was cut off after 2 s; what was recorded of it is here\.$/,
    );
    expect(words).toBeTruthy();
    screen.getByRole("button", { name: "Mark it" }).click();
    await waitFor(() => expect(marked).toEqual(["kept"]));
    const entry = await history.open("kept");
    expect(entry).toMatchObject({
      atEpochMs: 1_790_000_000_000,
      zone: "Europe/Dublin",
      source: "microphone",
    });
    // What anyone who marks these samples by hand gets.
    const listening = listenToTake(recorded, RATE_HZ, undefined, reedsOfExercise(exercise));
    const settings = {
      ...USUAL_SETTINGS,
      way: "in time" as const,
      latencyMs: milliseconds(9),
      beatZeroSeconds: seconds(BEAT_ZERO_SECONDS),
    };
    expect(entry?.attempt).toEqual(scoreTake(exercise, listening, settings));
    // [calc] at 90 a minute a note lasts 0.67 s: three were played whole in 2.4 s, the fourth was cut off.
    expect(entry?.attempt.marks.slice(0, 3).map(({ verdict }) => verdict)).toEqual(["hit", "hit", "hit"]);
    for (const mark of entry?.attempt.marks.slice(4) ?? [])
      expect(mark).toMatchObject({ verdict: "not measured", reason: "the recording ends before this note" });
    expect(entry?.attempt.summary.notes.missed).toBe(0);
  });

  test("is gone once it is thrown away", async () => {
    const { runningTakes, history, services } = await cutOff(2.4);
    render(<Offer services={services} onMarked={() => {}} />);
    (await screen.findByRole("button", { name: "Throw it away" })).click();
    await screen.findByText("Nothing is offered");
    expect(runningTakes.takes.size).toBe(0);
    expect(await history.list()).toEqual([]);
  });

  test("whose marking fails or is stopped is offered again, and why it failed is told", async () => {
    const failing = await cutOff(2.4, {
      listenInWorker: async () => {
        throw new Error("the take is longer than memory");
      },
    });
    const view = render(<Offer services={failing.services} onMarked={() => {}} />);
    (await screen.findByRole("button", { name: "Mark it" })).click();
    await screen.findByText("The take is longer than memory.");
    view.unmount();
    const slow = await cutOff(2.4, {
      listenInWorker: (_, __, options) =>
        new Promise((____, reject) => {
          options?.onProgress?.(0.5);
          options?.signal?.addEventListener("abort", () => reject(new DOMException("stopped", "AbortError")));
        }),
    });
    render(<Offer services={slow.services} onMarked={() => {}} />);
    (await screen.findByRole("button", { name: "Mark it" })).click();
    const bar = await screen.findByRole("progressbar");
    await expect.poll(() => bar.getAttribute("value")).toBe("0.5");
    screen.getByRole("button", { name: "Stop" }).click();
    await screen.findByRole("button", { name: "Mark it" });
    expect(slow.runningTakes.takes.size).toBe(1);
    expect(await slow.history.list()).toEqual([]);
  });
});
