import { afterEach, describe, expect, test, vi } from "vitest";
import { targetMidi } from "../../../core/exercise/exercise.ts";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendWorld } from "./doubles.ts";

const exercise = exerciseOf({ direction: "up" });
const FIRST = exercise.notes[0];
const FIRST_MIDI = FIRST === undefined ? 0 : targetMidi(exercise, FIRST);

function setUp(options: Partial<ConstructorParameters<typeof PracticeSession>[2]>) {
  const world = new PretendWorld(exercise);
  const session = new PracticeSession(exercise, world.services(), {
    latencyMs: 0,
    beatWhilePlaying: "heard",
    ...options,
  });
  return { world, session };
}

/** Readings thirty a second from a time on. */
function play(
  world: PretendWorld,
  fromSeconds: number,
  seconds: number,
  pitchMidi: number | null,
  dbfs = -20,
) {
  for (let n = 0; n < 30 * seconds; n++)
    world.read({
      atSeconds: fromSeconds + n / 30,
      pitchMidi,
      levelDbfs: pitchMidi === null ? -70 : dbfs,
      secondReedDb: null,
      clipped: false,
      silent: false,
    });
}

const kindOf = (session: PracticeSession) => session.getState().kind;

afterEach(() => vi.useRealTimers());

describe("a player with both hands full", () => {
  test("begins by holding a note: then the count-in is heard", async () => {
    const { world, session } = setUp({ begin: "held note" });
    await session.awaitNote();
    expect(session.getState()).toMatchObject({ kind: "ready", awaitsNote: true });
    play(world, 10, 0.3, 74);
    play(world, 10.4, 1, null);
    expect(world.log).toEqual(["open"]);
    play(world, 12, 0.6, 74);
    await vi.waitFor(() => expect(kindOf(session)).toBe("playing"));
    expect(world.log).toEqual(["open", "start take", "beat"]);
  });

  test("need not: a key begins as well, and where it was not chosen nothing listens", async () => {
    const chosen = setUp({ begin: "held note" });
    await chosen.session.awaitNote();
    await chosen.session.startOrStop();
    expect(kindOf(chosen.session)).toBe("playing");
    const not = setUp({});
    await not.session.awaitNote();
    expect(not.world.log).toEqual([]);
    expect(not.session.getState()).toMatchObject({ kind: "ready", awaitsNote: false });
  });

  test("hears the exercise first, and the sheet waits for the note again", async () => {
    const { world, session } = setUp({ begin: "held note" });
    await session.awaitNote();
    await session.hear();
    world.reference?.onEnd?.();
    await vi.waitFor(() => expect(session.getState()).toMatchObject({ kind: "ready", awaitsNote: true }));
  });

  test("is told when the microphone goes away while the sheet waits", async () => {
    const { world, session } = setUp({ begin: "held note" });
    await session.awaitNote();
    world.unplug();
    expect(session.getState()).toMatchObject({
      trouble: expect.stringMatching(/unplugged/),
      awaitsNote: false,
    });
  });

  test("at his own pace just plays; silence before it is not recorded without end", async () => {
    const { world, session } = setUp({ begin: "held note", way: "own pace" });
    await session.awaitNote();
    expect(session.getState()).toMatchObject({ kind: "playing", beat: null });
    play(world, 0, 65, null);
    // [calc] begun anew after 30 s and after 60 s
    expect(world.log.filter((one) => one === "start take")).toHaveLength(3);
    play(world, 65, 0.2, FIRST_MIDI);
    expect(session.getState()).toMatchObject({ noteIndex: 0 });
    play(world, 66, 40, null);
    expect(world.log.filter((one) => one === "start take")).toHaveLength(3);
  });

  test("gets the next round after the pause, counted down, unless he stays", async () => {
    const { session } = setUp({ againAfterSeconds: 4 });
    await session.startOrStop();
    vi.useFakeTimers();
    void session.startOrStop();
    await vi.advanceTimersByTimeAsync(0);
    expect(session.getState()).toMatchObject({ kind: "marked", againInSeconds: 4 });
    await vi.advanceTimersByTimeAsync(3000);
    expect(session.getState()).toMatchObject({ kind: "marked", againInSeconds: 1 });
    await vi.advanceTimersByTimeAsync(1000);
    expect(kindOf(session)).toBe("playing");
    void session.startOrStop();
    await vi.advanceTimersByTimeAsync(1000);
    await session.startOrStop(); // Space stays
    expect(session.getState()).toMatchObject({ kind: "marked", againInSeconds: null });
    await vi.advanceTimersByTimeAsync(60_000);
    expect(kindOf(session)).toBe("marked");
    await session.startOrStop();
    expect(kindOf(session)).toBe("playing");
  });

  test("gets what was chosen to come after a round, after the same pause, unless he stays", async () => {
    const begun: string[] = [];
    const { session } = setUp({
      againAfterSeconds: 4,
      afterRound: ({ summary }) => ({
        words: "The next line",
        begin: () => void begun.push(`${summary.notes.expected} notes asked`),
      }),
    });
    await session.startOrStop();
    vi.useFakeTimers();
    void session.startOrStop();
    await vi.advanceTimersByTimeAsync(3000);
    expect(session.getState()).toMatchObject({ againInSeconds: 1, afterWords: "The next line" });
    session.stay();
    expect(session.getState()).toMatchObject({ againInSeconds: null, afterWords: null });
    await vi.advanceTimersByTimeAsync(10_000);
    expect(begun).toEqual([]);
    await session.startOrStop();
    void session.startOrStop();
    await vi.advanceTimersByTimeAsync(4000);
    expect(begun).toEqual([`${exercise.notes.length} notes asked`]);
    expect(kindOf(session)).toBe("marked");
  });

  test("finds the marks staying where nothing is to come, and why", async () => {
    const { session } = setUp({
      againAfterSeconds: 4,
      afterRound: () => ({ words: "Nothing was heard", begin: null }),
    });
    await session.startOrStop();
    vi.useFakeTimers();
    void session.startOrStop();
    await vi.advanceTimersByTimeAsync(60_000);
    expect(session.getState()).toMatchObject({
      kind: "marked",
      againInSeconds: null,
      afterWords: "Nothing was heard",
    });
  });

  test("who leaves is not called back", async () => {
    const { world, session } = setUp({ againAfterSeconds: 4 });
    await session.startOrStop();
    vi.useFakeTimers();
    void session.startOrStop();
    await vi.advanceTimersByTimeAsync(0);
    session.dispose();
    const before = world.log.length;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(world.log.slice(before)).toEqual([]);
  });
});

describe("an echo", () => {
  test("is heard first and then played back with the count-in", async () => {
    const { world, session } = setUp({ way: "echo" });
    await session.startOrStop();
    expect(session.getState()).toMatchObject({ kind: "hearing", thenPlay: true });
    expect(world.log).toEqual(["open", "reference"]);
    world.reference?.onEnd?.();
    await vi.waitFor(() => expect(kindOf(session)).toBe("playing"));
    expect(world.log).toEqual(["open", "reference", "hush", "start take", "beat"]);
    await session.startOrStop();
    await vi.waitFor(() => expect(kindOf(session)).toBe("marked"), { timeout: 10_000 });
    const state = session.getState();
    if (state.kind !== "marked") throw new Error("marked");
    expect(state.attempt.way).toBe("echo");
    expect(state.attempt.summary.notes.hit).toBe(exercise.notes.length);
  });

  test("can be stopped while it is heard", async () => {
    const { world, session } = setUp({ way: "echo" });
    await session.startOrStop();
    await session.startOrStop();
    expect(kindOf(session)).toBe("ready");
    world.reference?.onEnd?.();
    await Promise.resolve();
    expect(kindOf(session)).toBe("ready");
  });
});

describe("a beat the microphone hears", () => {
  test("is told while playing", async () => {
    const { world, session } = setUp({});
    await session.startOrStop();
    // [calc] the double says beat 0 at 100 s + four beats of 2/3 s: the count-in from 100 s
    for (let n = 0; n < 90; n++) {
      const at = 99.8 + n / 30;
      const click = [0, 1, 2, 3].some((beat) => Math.abs(at - (100 + (beat * 2) / 3 + 0.07)) < 0.02);
      world.read({
        atSeconds: at,
        pitchMidi: null,
        levelDbfs: click ? -30 : -70,
        secondReedDb: null,
        clipped: false,
        silent: false,
      });
    }
    expect(session.getState()).toMatchObject({ kind: "playing", hearsBeat: true });
  });
});
