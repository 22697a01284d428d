import { beforeEach, describe, expect, test, vi } from "vitest";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import type { PlaybackOptions } from "../../../renderer/audio/playback.ts";
import type { ReferenceOptions } from "../../../renderer/audio/reference.ts";
import { type HearPlan, TakeHearing } from "../../../renderer/practice/take-hearing.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();
const RATE_HZ = 1000;
/** Each sample says its own place. */
const take = { samples: Float32Array.from({ length: 8000 }, (_, i) => i), sampleRateHz: RATE_HZ };
const PLAN: HearPlan = {
  what: "take",
  fromIndex: 2,
  toIndex: 3,
  fromSeconds: 2,
  toSeconds: 3,
  again: false,
  speed: 1,
};

/** A loudspeaker that only remembers, and ends when it is told. */
class Heard {
  readonly log: string[] = [];
  playing: PlaybackOptions | null = null;
  sounding: { exercise: Exercise; options: ReferenceOptions } | null = null;
  slow: (() => void) | null = null;
  readonly hearing = new TakeHearing({
    playback: {
      play: (samples, _rate, _from, options) => {
        this.log.push(`take ${samples[0]} ${samples.length}`);
        this.playing = options;
      },
      stop: () => {
        this.playing = null;
      },
    },
    reference: {
      play: async (passage, options) => {
        this.log.push(`reference ${passage.notes.map((note) => note.index)} ${passage.tempo.bpm}`);
        this.sounding = { exercise: passage, options };
        return { beatZeroSeconds: 0, stop: () => this.log.push("reference stopped") };
      },
    },
    slowInWorker: (samples, _rate, speed, options) =>
      new Promise((resolve, reject) => {
        this.log.push(`slow ${samples.length} ${speed}`);
        options?.onProgress?.(0.4);
        options?.signal?.addEventListener("abort", () => reject(new Error("aborted")));
        this.slow = () => resolve(new Float32Array(samples.length / speed));
      }),
  });

  start(changes: Partial<HearPlan>): void {
    this.hearing.start(exercise, take, { ...PLAN, ...changes });
  }
}

let heard: Heard;
beforeEach(() => {
  heard = new Heard();
  vi.useFakeTimers();
  return () => vi.useRealTimers();
});

const soon = () => vi.advanceTimersByTimeAsync(300);

describe("a take heard again", () => {
  test("from a note to a note, with the place told on the take's own clock", async () => {
    heard.start({});
    await soon();
    expect(heard.log).toEqual(["take 2000 1000"]);
    heard.playing?.onPosition?.(0.25);
    expect(heard.hearing.getState()).toEqual({ kind: "take", atSeconds: 2.25 });
    heard.playing?.onEnd?.();
    await soon();
    expect(heard.hearing.getState()).toEqual({ kind: "silent", trouble: null });
  });

  test("to its end where none is named", async () => {
    heard.start({ toSeconds: null });
    await soon();
    expect(heard.log).toEqual(["take 2000 6000"]);
  });

  test("at half speed: only the part is made slower, once, and the place runs half as fast", async () => {
    heard.start({ speed: 0.5, again: true });
    await soon();
    expect(heard.hearing.getState()).toEqual({ kind: "slowing", share: 0.4 });
    heard.slow?.();
    await soon();
    expect(heard.log).toEqual(["slow 1000 0.5", "take 0 2000"]);
    heard.playing?.onPosition?.(0.5);
    expect(heard.hearing.getState()).toEqual({ kind: "take", atSeconds: 2.25 });
    heard.playing?.onEnd?.();
    await soon();
    expect(heard.log).toEqual(["slow 1000 0.5", "take 0 2000", "take 0 2000"]);
    heard.start({ speed: 0.5 });
    await soon();
    expect(heard.log.filter((line) => line.startsWith("slow"))).toHaveLength(1);
  });

  test("the reference at half speed is the same notes at half the tempo", async () => {
    heard.start({ what: "reference", speed: 0.5 });
    await soon();
    expect(heard.log).toEqual(["reference 2,3 45"]);
    heard.sounding?.options.onNote?.(3);
    expect(heard.hearing.getState()).toEqual({ kind: "reference", noteIndex: 3 });
    heard.sounding?.options.onEnd?.();
    await soon();
    expect(heard.hearing.getState().kind).toBe("silent");
  });

  test("both in turn, again and again until it is stopped", async () => {
    heard.start({ what: "in turn", again: true });
    for (let round = 0; round < 2; round++) {
      await soon();
      heard.sounding?.options.onEnd?.();
      await soon();
      heard.playing?.onEnd?.();
      await soon();
    }
    expect(heard.log.slice(0, 4)).toEqual([
      "reference 2,3 90",
      "take 2000 1000",
      "reference 2,3 90",
      "take 2000 1000",
    ]);
    heard.hearing.stop();
    const { length } = heard.log;
    await soon();
    expect(heard.log.length).toBe(length);
    expect(heard.hearing.getState()).toEqual({ kind: "silent", trouble: null });
  });

  test("stopping silences the reference, and what was slowed for nothing is dropped", async () => {
    heard.start({ what: "reference" });
    await soon();
    heard.hearing.stop();
    expect(heard.log).toContain("reference stopped");
    heard.start({ speed: 0.5 });
    await soon();
    heard.hearing.stop();
    heard.slow?.();
    await soon();
    expect(heard.log.some((line) => line.startsWith("take"))).toBe(false);
    expect(heard.hearing.getState()).toEqual({ kind: "silent", trouble: null });
  });

  test("what cannot be played is said", async () => {
    const broken = new TakeHearing({
      playback: { play: () => {}, stop: () => {} },
      reference: { play: () => Promise.reject(new Error("no loudspeaker")) },
      slowInWorker: () => Promise.reject(new Error("never")),
    });
    broken.start(exercise, take, { ...PLAN, what: "reference" });
    await soon();
    expect(broken.getState()).toEqual({ kind: "silent", trouble: "It cannot be played: no loudspeaker." });
  });
});
