import { describe, expect, test, vi } from "vitest";
import { lengthOf, onsetOf } from "../../../core/exercise/exercise.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import type { Way } from "../../../core/score/attempt.ts";
import type { RecordedTake } from "../../../renderer/audio/microphone.ts";
import type { SoundTrouble } from "../../../renderer/audio/sound-trouble.ts";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendWorld } from "./doubles.ts";

const exercise = exerciseOf({ direction: "up" });
const RATE_HZ = 44_100;
/** Where the double has beat 0 on the sound context's clock, its take beginning at 100 s. */
const BEAT_ZERO = 4 * (60 / 90);

const TROUBLES: readonly SoundTrouble[] = [
  { kind: "unplugged" },
  { kind: "muted" },
  { kind: "slept", seconds: 2400 },
  { kind: "stood still" },
  { kind: "no sound arrives" },
  { kind: "samples missing", seconds: 3 },
  { kind: "another microphone", name: "Headset" },
  { kind: "rate changed", fromHz: 48_000, toHz: 16_000 },
  { kind: "output gone", name: "Loudspeaker" },
  { kind: "sound failed" },
  { kind: "not looked at", how: "hidden" },
];

/** The simulated take up to a moment, as a microphone saves it that broke off there. */
function upTo(world: PretendWorld, seconds: number): RecordedTake {
  const samples = world.take().samples.slice(0, Math.round(seconds * RATE_HZ));
  const listening = listenToTake(samples, RATE_HZ);
  return { samples, sampleRateHz: RATE_HZ, firstSampleSeconds: 100, lostSamples: 0, listening };
}

async function playing(way: Way = "in time") {
  const world = new PretendWorld(exercise);
  const session = new PracticeSession(exercise, world.services(), {
    latencyMs: 0,
    beatWhilePlaying: "heard",
    way,
  });
  await session.startOrStop();
  expect(session.getState().kind).toBe("playing");
  world.piece({ firstFrame: 100 * RATE_HZ, samples: new Float32Array(10) });
  return { world, session };
}

const soon = (check: () => void) => vi.waitFor(check, { timeout: 20_000 });

describe("a take that something breaks into", () => {
  test.each(TROUBLES.map((trouble) => [trouble.kind, trouble] as const))(
    "%s: the state has that name, the beat is silent, and nothing is marked by itself",
    async (_, trouble) => {
      const { world, session } = await playing();
      world.breakOff({ trouble, rescued: Promise.resolve(null) });
      expect(session.getState()).toEqual({ kind: "broken off", trouble, wholeNotes: null });
      expect(session.isListening()).toBe(false);
      expect(world.log.at(-1)).toBe("hush");
      // What the reference still had to say is late, and changes nothing.
      world.reference?.onNote?.(3);
      world.reference?.onEnd?.();
      await soon(() => expect(session.getState()).toEqual({ kind: "broken off", trouble, wholeNotes: 0 }));
      await session.markWhole();
      expect(session.getState().kind).toBe("broken off");
      expect(await world.history.list()).toEqual([]);
      // The way on: the same key opens the microphone anew.
      await session.startOrStop();
      expect(session.getState().kind).toBe("playing");
      expect(world.log.filter((line) => line === "open")).toHaveLength(2);
    },
  );

  test("is marked up to there where the player wants it: whole notes are right, the rest is not measured", async () => {
    const { world, session } = await playing();
    const save = vi.spyOn(world.history, "save");
    const third = exercise.notes[3];
    if (third === undefined) throw new Error("the exercise is too short");
    // In the middle of the fourth note: three are whole.
    const cut = BEAT_ZERO + onsetOf(exercise, third) + lengthOf(exercise, third) / 2;
    const rescued = Promise.resolve(upTo(world, cut));
    world.breakOff({ trouble: { kind: "slept", seconds: 60 }, rescued });
    await soon(() => expect(session.getState()).toMatchObject({ kind: "broken off", wholeNotes: 3 }));
    await session.markWhole();
    await soon(() => expect(session.getState()).toMatchObject({ kind: "marked", keeping: { kind: "kept" } }));
    const state = session.getState();
    if (state.kind !== "marked") throw new Error(state.kind);
    const verdicts = state.attempt.marks.map(({ verdict }) => verdict);
    expect(verdicts.slice(0, 3)).toEqual(["hit", "hit", "hit"]);
    expect(new Set(verdicts.slice(4))).toEqual(new Set(["not measured"]));
    expect(state.attempt.summary.notes).toMatchObject({ wrong: 0, missed: 0, extra: 0 });
    expect(await world.history.list()).toHaveLength(1);
    // Its copy on the disk goes in the same step.
    expect(save).toHaveBeenCalledWith(expect.objectContaining({ source: "microphone" }), {
      running: "running 1",
    });
  });

  test("before its first whole note has nothing to be marked", async () => {
    const { world, session } = await playing();
    world.breakOff({ trouble: { kind: "stood still" }, rescued: Promise.resolve(upTo(world, 1)) });
    await soon(() => expect(session.getState()).toMatchObject({ wholeNotes: 0 }));
  });

  test("at the player's own pace it is marked by the notes heard", async () => {
    const way = "own pace";
    const { world, session } = await playing(way);
    const rescued = Promise.resolve(upTo(world, BEAT_ZERO + 2));
    world.breakOff({ trouble: { kind: "unplugged" }, rescued });
    await soon(() => expect(session.getState()).toMatchObject({ kind: "broken off" }));
    await soon(() => {
      const state = session.getState();
      expect(state.kind === "broken off" && (state.wholeNotes ?? 0) > 0).toBe(true);
    });
    await session.markWhole();
    await soon(() => expect(session.getState()).toMatchObject({ kind: "marked", attempt: { way } }));
  });

  test("is forgotten, on the disk too, when another is begun, and left there where it could not be saved", async () => {
    const begun = await playing();
    const rescued = Promise.resolve(upTo(begun.world, 5));
    begun.world.breakOff({ trouble: { kind: "muted" }, rescued });
    await soon(() => expect(begun.session.getState()).toMatchObject({ kind: "broken off", wholeNotes: 3 }));
    await begun.session.startOrStop();
    expect([...begun.world.running.takes.keys()]).toEqual([]);
    const lost = await playing();
    lost.world.breakOff({ trouble: { kind: "no sound arrives" }, rescued: Promise.resolve(null) });
    await soon(() => expect(lost.session.getState()).toMatchObject({ wholeNotes: 0 }));
    lost.session.stop();
    expect(await lost.world.running.left()).toHaveLength(1);
  });

  test("between takes the sheet says why it no longer listens only where it was to listen", async () => {
    const { world, session } = await playing();
    await session.startOrStop();
    await soon(() => expect(session.getState().kind).toBe("marked"));
    world.breakOff({ trouble: { kind: "unplugged" }, rescued: Promise.resolve(null) });
    expect(session.getState().kind).toBe("marked");
    expect(session.isListening()).toBe(false);
  });
});

test("waiting for a note held, a broken microphone says so and waits no longer", async () => {
  const world = new PretendWorld(exercise);
  const session = new PracticeSession(exercise, world.services(), {
    latencyMs: 0,
    beatWhilePlaying: "heard",
    begin: "held note",
  });
  await session.awaitNote();
  world.breakOff({ trouble: { kind: "slept", seconds: 7200 }, rescued: Promise.resolve(null) });
  expect(session.getState()).toEqual({
    kind: "ready",
    // [calc] 7200 s are two hours
    trouble: "The machine slept, or its clock was set ahead by 2 hours. Start again.",
    awaitsNote: false,
  });
});
