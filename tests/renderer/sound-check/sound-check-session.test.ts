import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { hz, seconds } from "../../../core/units.ts";
import { PHRASE_SECONDS } from "../../../renderer/sound-check/sound-check-session.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendSoundCheck } from "./doubles.ts";

let world: PretendSoundCheck;
beforeEach(() => {
  world = new PretendSoundCheck();
});
afterEach(() => {
  world.session.dispose();
  vi.useRealTimers();
});

const FOUND = {
  kind: "found",
  delaySeconds: seconds(0.04317),
  spreadSeconds: seconds(0.0002),
  clearBursts: 6,
  bursts: 6,
  clearDb: 40,
} as const;
const HEADSET = { id: "h", name: "Headset", group: "g" };
const SPEAKER = { id: "s", name: "Loudspeaker", group: "k" };

describe("the microphone", () => {
  test("is opened and closed as told, and says what it is", async () => {
    world.refused = ["echo cancellation"];
    await world.session.open();
    expect(world.session.getState().microphone).toEqual({
      kind: "open",
      name: "Desk microphone",
      insteadOf: null,
      refused: ["echo cancellation"],
      sampleRateHz: 44_100,
    });
    world.session.close();
    expect(world.session.getState().microphone).toEqual({ kind: "closed", trouble: null });
    expect(world.log).toEqual(["open", "close"]);
  });

  test.each(["denied", "none", "busy"] as const)("that is %s leaves one sentence", async (cause) => {
    world.problem = { cause, words: "That is why." };
    await world.session.open();
    expect(world.session.getState().microphone).toEqual({ kind: "closed", trouble: "That is why." });
    await world.session.measureByLoudspeaker();
    expect(world.session.getState().activity).toEqual({ kind: "none" });
    expect(world.log).toEqual(["open", "open"]);
  });

  test.each([
    [
      { kind: "slept", seconds: 600 },
      "The machine slept, or its clock was set ahead by 10 minutes. Open it again.",
    ],
    [{ kind: "stood still" }, "The system took the sound away for a while. Open it again."],
    [
      { kind: "output gone", name: "Headset" },
      "Headset is no longer what you hear by. Choose what to hear by (Sound check), and open it again.",
    ],
    [{ kind: "rate changed", fromHz: 48_000, toHz: 16_000 }, /16000 samples a second\. Open it again\.$/],
    [{ kind: "not looked at", how: "hidden" }, /was hidden\. Open it again\.$/],
  ] as const)(
    "broken into while the phrase is played (%j) judges nothing and says so",
    async (trouble, words) => {
      await world.session.open();
      const phrase = world.session.playPhrase();
      await vi.waitFor(() => expect(world.session.getState().activity.kind).toBe("phrase"));
      world.breakOff({ trouble, rescued: Promise.resolve(null) });
      await phrase;
      const { microphone, activity, phrase: judged } = world.session.getState();
      expect(microphone).toEqual({
        kind: "closed",
        trouble: typeof words === "string" ? words : expect.stringMatching(words),
      });
      expect([activity.kind, judged]).toEqual(["none", null]);
      expect(world.log).toContain("cancel take");
    },
  );

  test("the phrase lasts ten seconds also where the machine's clock is set meanwhile", async () => {
    vi.useFakeTimers();
    try {
      await world.session.open();
      const phrase = world.session.playPhrase();
      await vi.advanceTimersByTimeAsync(3000);
      vi.setSystemTime(Date.now() - 86_400_000);
      await vi.advanceTimersByTimeAsync(6500);
      expect(world.session.getState().activity.kind).toBe("phrase");
      // [calc] ten seconds are over within the next second
      await vi.advanceTimersByTimeAsync(1000);
      await phrase;
      expect(world.session.getState().phrase).not.toBeNull();
    } finally {
      vi.useRealTimers();
    }
  });

  test("unplugged in the middle of measuring ends it and says so", async () => {
    let goOn = () => {};
    world.hold = new Promise((resolve) => {
      goOn = resolve;
    });
    await world.session.open();
    const measuring = world.session.measureByLoudspeaker();
    await vi.waitFor(() =>
      expect(world.session.getState().activity).toEqual({ kind: "by loudspeaker", share: 0.5 }),
    );
    world.unplug();
    goOn();
    await measuring;
    const { microphone, activity, outcome, trouble } = world.session.getState();
    expect(microphone).toMatchObject({ kind: "closed", trouble: expect.stringMatching(/unplugged/) });
    expect({ activity, outcome, trouble }).toEqual({
      activity: { kind: "none" },
      outcome: null,
      trouble: null,
    });
    expect(world.kept).toEqual([]);
  });

  test("used instead of the chosen one makes place for it when that is back", async () => {
    await world.plug({ kind: "audiooutput", device: SPEAKER });
    await world.devices.choose({ input: HEADSET, output: null });
    await world.plug({ kind: "audioinput", device: { id: "d", name: "Desk microphone", group: "" } });
    world.insteadOf = "Headset";
    await world.session.open();
    expect(world.log.filter((word) => word === "open")).toHaveLength(1);
    world.insteadOf = null;
    await world.plug({ kind: "audioinput", device: HEADSET });
    await vi.waitFor(() => expect(world.log).toEqual(["open", "close", "open"]));
  });

  test("that answers after the screen was left is closed at once", async () => {
    const opening = world.session.open();
    world.session.dispose();
    expect(await opening).toBeNull();
    expect(world.log).toEqual(["open", "close"]);
  });
});

describe("measuring the delay", () => {
  test("opens the microphone, plays softly, and keeps what it found for the pair and rate", async () => {
    await world.plug({ kind: "audiooutput", device: SPEAKER });
    world.byLoudspeaker = FOUND;
    await world.session.measureByLoudspeaker();
    expect(world.log).toEqual(["open", "noise at -36 dB"]);
    expect(world.kept).toEqual([
      {
        inputName: "Desk microphone",
        outputName: "Loudspeaker",
        sampleRateHz: hz(44_100),
        delayMs: 43.2, // 43.17 ms to a tenth
        spreadMs: 0.2,
        way: "loudspeaker",
        atEpochMs: expect.any(Number),
      },
    ]);
    expect(world.session.getState().outcome).toEqual({ way: "loudspeaker", found: FOUND });
  });

  test("becomes louder only when asked to, and never beyond -12 dB", async () => {
    await world.session.measureByLoudspeaker();
    await world.session.measureByLoudspeaker();
    for (let time = 0; time < 6; time++) await world.session.measureLouder();
    const loudness = world.log
      .filter((word) => word.startsWith("noise"))
      .map((word) => Number(word.split(" ")[2]));
    expect(loudness).toEqual([-36, -36, -30, -24, -18, -12, -12, -12]);
    expect(world.kept).toEqual([]);
  });

  test("tells each beat while one plays along, and keeps the result as that", async () => {
    world.byPlayingAlong = {
      kind: "found",
      delaySeconds: seconds(0.12),
      spreadSeconds: seconds(0.015),
      usedBeats: 7,
      beats: 8,
    };
    const shares: unknown[] = [];
    world.session.subscribe(() => shares.push(world.session.getState().activity));
    await world.session.measureByPlayingAlong();
    expect(shares).toContainEqual({ kind: "by playing along", share: 0.5, beat: 2 });
    expect(world.kept).toMatchObject([{ way: "played along", delayMs: 120, spreadMs: 15 }]);
  });

  test("that is stopped keeps nothing and says nothing; that fails says why", async () => {
    let goOn = () => {};
    world.hold = new Promise((resolve) => {
      goOn = resolve;
    });
    world.byLoudspeaker = FOUND;
    const measuring = world.session.measureByLoudspeaker();
    await vi.waitFor(() => expect(world.session.getState().activity.kind).toBe("by loudspeaker"));
    world.session.stop();
    goOn();
    await measuring;
    expect(world.session.getState()).toMatchObject({
      activity: { kind: "none" },
      outcome: null,
      trouble: null,
    });
    world.byLoudspeaker = new Error("the sound card is gone");
    await world.session.measureByLoudspeaker();
    expect(world.session.getState().trouble).toBe("That did not work: the sound card is gone.");
    expect(world.kept).toEqual([]);
  });
});

describe("the test phrase", () => {
  test("is listened to for ten seconds with progress, then judged", async () => {
    vi.useFakeTimers();
    // Fifteen notes of a drill, the longest 0.4 s: everything but a held note.
    world.recording = Float32Array.from(
      simulateTake(exerciseOf(), { seed: 1, plants: [], sampleRateHz: 44_100 }).samples,
    );
    const playing = world.session.playPhrase();
    await vi.advanceTimersByTimeAsync(500 * PHRASE_SECONDS);
    const { activity } = world.session.getState();
    expect(activity).toEqual({ kind: "phrase", share: expect.closeTo(0.5, 1) });
    await vi.advanceTimersByTimeAsync(600 * PHRASE_SECONDS);
    await playing;
    const { phrase } = world.session.getState();
    expect(phrase?.notes).toBe(exerciseOf().notes.length);
    expect(world.log).toEqual(["open", "start take"]);
  });

  test("can be stopped, and then says nothing", async () => {
    vi.useFakeTimers();
    const playing = world.session.playPhrase();
    await vi.advanceTimersByTimeAsync(1000);
    world.session.stop();
    await vi.advanceTimersByTimeAsync(1000);
    await playing;
    expect(world.log).toEqual(["open", "start take", "cancel take"]);
    expect(world.session.getState()).toMatchObject({
      phrase: null,
      trouble: null,
      activity: { kind: "none" },
    });
  });
});

test("levels are told a few times a second, and not while the loudspeaker plays to itself", async () => {
  await world.session.open();
  const reading = { pitchMidi: 79, levelDbfs: -24, secondReedDb: null, clipped: false, silent: false };
  let told = 0;
  world.session.subscribe(() => told++);
  for (let n = 0; n < 30; n++) world.read({ ...reading, atSeconds: n / 30 });
  expect(told).toBe(4); // [calc] one second, a quarter apart
  expect(world.session.getState().levels.noteDbfs).toBe(-24);
  let goOn = () => {};
  world.hold = new Promise((resolve) => {
    goOn = resolve;
  });
  const measuring = world.session.measureByLoudspeaker();
  await vi.waitFor(() => expect(world.session.getState().activity.kind).toBe("by loudspeaker"));
  world.read({ ...reading, levelDbfs: -3, atSeconds: 9 });
  expect(world.session.getState().levels.noteDbfs).toBe(-24);
  goOn();
  await measuring;
});
