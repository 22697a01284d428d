import { describe, expect, test } from "vitest";
import type { HeardNote } from "../../core/listen/listening.ts";
import { cents, dbfs, midi, seconds } from "../../core/units.ts";
import { emptyMeasurement, type ReedMeasurement } from "../../core/workshop/measure/measurement.ts";
import { reedNow } from "../../core/workshop/measure/walk.ts";
import type { EndedListening, MicrophoneSession, OpenMicrophone } from "../../renderer/audio/microphone.ts";
import type { ToldNote } from "../../renderer/audio/note-teller.ts";
import type { SoundTrouble } from "../../renderer/audio/sound-trouble.ts";
import { hearTogether } from "../../renderer/workshop/measure/together-session.ts";
import { WalkSession } from "../../renderer/workshop/measure/walk-session.ts";
import { harp } from "../support/harps.ts";

/** A microphone that tells the notes it is given. */
class PretendMicrophone {
  opened = 0;
  closed = 0;
  private tell: ((told: ToldNote) => void) | null = null;
  private ended: (ended: EndedListening) => void = () => {};

  readonly open: OpenMicrophone = async () => {
    this.opened++;
    const session: MicrophoneSession = {
      sampleRateHz: 48_000,
      deviceName: "pretended",
      insteadOf: null,
      refused: [],
      onReading: () => () => {},
      onEnded: (listener) => {
        this.ended = listener;
      },
      startTake: async () => {},
      stopTake: async () => {
        throw new Error("nothing was recorded");
      },
      cancelTake: () => {},
      followNotes: (_, onNote) => {
        this.tell = onNote;
        return () => {};
      },
      close: () => {
        this.closed++;
        this.tell = null;
      },
    };
    return { kind: "open", session };
  };

  unplug(): void {
    this.breakOff({ kind: "unplugged" });
  }

  breakOff(trouble: SoundTrouble): void {
    this.ended({ trouble, rescued: Promise.resolve(null) });
  }

  /** Whether anybody listened. */
  sound(onSeconds: number, pitch: number): boolean {
    const note: HeardNote = {
      onSeconds: seconds(onSeconds),
      offSeconds: seconds(onSeconds + 0.8),
      pitchMidi: midi(pitch),
      spreadCents: cents(0.4),
      settledSeconds: seconds(0.7),
      levelDbfs: dbfs(-20),
      unreadable: null,
      leak: null,
    };
    this.tell?.({ note, nowSeconds: onSeconds + 1 });
    return this.tell !== null;
  }
}

async function listening() {
  const microphone = new PretendMicrophone();
  const kept: ReedMeasurement[] = [];
  const session = new WalkSession(emptyMeasurement(harp("C"), "microphone"), microphone.open, (one) =>
    kept.push(one),
  );
  await session.listen();
  const standing = () => {
    const reed = reedNow(session.getState().walk);
    return reed === null ? "done" : `${reed.hole} ${reed.breath}`;
  };
  return { microphone, kept, session, standing };
}

describe("a walk with a microphone", () => {
  test("goes on by itself and keeps every note at once", async () => {
    const { microphone, kept, standing } = await listening();
    // [F1] 1 blow of a C harp is C4, MIDI 60, 1 draw D4, 62.
    for (const at of [1, 2.5, 4]) microphone.sound(at, 60.02);
    expect(standing()).toBe("1 draw");
    microphone.sound(5.5, 62);
    expect(kept).toHaveLength(4);
    expect(
      kept
        .at(-1)
        ?.reeds.slice(0, 2)
        .map(({ readings }) => readings.length),
    ).toEqual([3, 1]);
  });

  test("paused hears nothing, closes the microphone, and goes on where it stood", async () => {
    const { microphone, session, standing } = await listening();
    microphone.sound(1, 60);
    session.toggle();
    expect(session.getState().activity).toEqual({ kind: "paused", trouble: null });
    expect([microphone.sound(3, 60), microphone.closed]).toEqual([false, 1]);
    session.toggle();
    await Promise.resolve();
    await Promise.resolve();
    // Times count anew with a microphone opened anew.
    microphone.sound(0.2, 60);
    microphone.sound(1.4, 60.01);
    expect(standing()).toBe("1 draw");
  });

  test("an unplugged microphone pauses it and is told; nothing is lost", async () => {
    const { microphone, session, kept } = await listening();
    microphone.sound(1, 60);
    microphone.unplug();
    expect(session.getState().activity).toEqual({
      kind: "paused",
      trouble: expect.stringMatching(/unplugged/),
    });
    expect(kept.at(-1)?.reeds[0]?.readings).toHaveLength(1);
  });

  test("a microphone that is not allowed says so, and one that opens too late is closed", async () => {
    const denied = new WalkSession(
      emptyMeasurement(harp("C"), "microphone"),
      async () => ({ kind: "problem", problem: { cause: "denied", words: "It is not allowed." } }),
      () => {},
    );
    await denied.listen();
    expect(denied.getState().activity).toEqual({ kind: "paused", trouble: "It is not allowed." });
    const microphone = new PretendMicrophone();
    const left = new WalkSession(emptyMeasurement(harp("C"), "microphone"), microphone.open, () => {});
    const opening = left.listen();
    left.dispose();
    await opening;
    expect([microphone.opened, microphone.closed]).toEqual([1, 1]);
  });

  test("done with every reed it closes the microphone", async () => {
    const { microphone, session, standing } = await listening();
    for (let n = 0; n < 20; n++) session.settle(n % 2 === 0 ? "silent" : "broken");
    expect(standing()).toBe("done");
    expect(microphone.closed).toBe(1);
    session.back();
    expect(standing()).toBe("10 draw");
  });
});

describe("two reeds heard together", () => {
  const pair = { lowHz: 262, highHz: 524, ratio: { over: 2, under: 1 } };
  const work = {
    take: async () => {
      throw new Error("not asked for");
    },
    beats: async () => ({ kind: "not sure", why: "too soft" }) as const,
  };

  test("stopped, the microphone is closed and nothing is told", async () => {
    const microphone = new PretendMicrophone();
    const stop = new AbortController();
    const hearing = hearTogether(
      { openMicrophone: microphone.open, work },
      pair,
      () => stop.abort(),
      stop.signal,
    );
    expect(await hearing).toEqual({ kind: "stopped" });
    expect(microphone.closed).toBeGreaterThan(0);
  });

  test("a recording that is broken into is told, and its beats are not", async () => {
    const microphone = new PretendMicrophone();
    const hearing = hearTogether(
      { openMicrophone: microphone.open, work },
      pair,
      () => microphone.breakOff({ kind: "stood still" }),
      new AbortController().signal,
    );
    expect(await hearing).toEqual({
      kind: "trouble",
      words: "The system took the sound away for a while. Try again.",
    });
  });

  test("a microphone that is away is told", async () => {
    const away: OpenMicrophone = async () => ({
      kind: "problem",
      problem: { cause: "none", words: "No microphone was found." },
    });
    const signal = new AbortController().signal;
    expect(await hearTogether({ openMicrophone: away, work }, pair, () => {}, signal)).toEqual({
      kind: "trouble",
      words: "No microphone was found.",
    });
  });
});
