import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { troubleWords, wayOn } from "../../renderer/audio/sound-trouble.ts";
import { type Found, type Look, SoundWatch } from "../../renderer/audio/sound-watch.ts";

const FIRST: Look = {
  wallSeconds: 1_790_000_000,
  steadySeconds: 50,
  soundSeconds: 7,
  contextState: "running",
  readings: 100,
  deviceId: "desk",
  rateHz: 48_000,
};
const STEP = 0.25;
/** Four looks a second; readings come thirty times a second. */
const usual = (steps: number, from: Look = FIRST): Look => ({
  ...from,
  wallSeconds: from.wallSeconds + STEP * steps,
  steadySeconds: from.steadySeconds + STEP * steps,
  soundSeconds: from.soundSeconds + STEP * steps,
  readings: from.readings + Math.round(30 * STEP * steps),
});

/** A watch that has looked for four seconds at a sound that is well, and its last look. */
function watching(): { readonly watch: SoundWatch; readonly last: Look } {
  const watch = new SoundWatch();
  for (let n = 0; n <= 16; n++) expect(watch.look(usual(n))).toBeNull();
  return { watch, last: usual(16) };
}

/** Looks on, with something else at each step, until something is found. */
function until(watch: SoundWatch, last: Look, steps: number, change: (step: number, usual: Look) => Look) {
  let found: Found | null = null;
  for (let n = 1; n <= steps && found === null; n++) found = watch.look(change(n, usual(n, last)));
  return found;
}

describe("the watch over the sound", () => {
  test("finds nothing where sound cards run a twentieth of a per cent fast or slow, looked at unevenly", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(-0.0005, 0, 0.0005),
        fc.array(fc.double({ min: 0.02, max: 2, noNaN: true }), { minLength: 200, maxLength: 200 }),
        (drift, steps) => {
          const watch = new SoundWatch();
          let at = 0;
          for (const step of steps) {
            at += step;
            const look = usual(at / STEP);
            expect(watch.look({ ...look, soundSeconds: FIRST.soundSeconds + at * (1 + drift) })).toBeNull();
          }
        },
      ),
      { seed: 9, numRuns: 40 },
    );
  });

  test("a machine that slept is known by its clock, where the others stood with it", () => {
    const { watch, last } = watching();
    const awake = usual(1, last);
    expect(watch.look({ ...awake, wallSeconds: awake.wallSeconds + 2400 })).toEqual({
      // [calc] the machine's clock went 2400 s further than the others
      trouble: { kind: "slept", seconds: expect.closeTo(2400, 3) },
      wholeUntilSeconds: last.soundSeconds,
    });
  });

  test("and by the steady clock on systems whose steady clock counts sleep", () => {
    const { watch, last } = watching();
    const awake = { ...usual(1, last), soundSeconds: last.soundSeconds + 0.1 };
    const slept = { ...awake, wallSeconds: awake.wallSeconds + 90, steadySeconds: awake.steadySeconds + 90 };
    expect(watch.look(slept)).toMatchObject({
      trouble: { kind: "slept" },
      wholeUntilSeconds: last.soundSeconds,
    });
  });

  test("a clock set back, or ahead by less than a second and a half, is no trouble", () => {
    for (const jump of [-3600, -1, 0.9]) {
      const { watch, last } = watching();
      const later = (n: number, look: Look) => ({ ...look, wallSeconds: last.wallSeconds + STEP * n + jump });
      expect(until(watch, last, 40, later)).toBeNull();
    }
  });

  test("a sound that stands still is found within a second, whole up to where it began to stand", () => {
    const { watch, last } = watching();
    const stood = (_: number, look: Look) => ({ ...look, soundSeconds: last.soundSeconds });
    // [calc] half a second behind is passed at the third look of a quarter of a second
    expect(until(watch, last, 3, stood)).toEqual({
      trouble: { kind: "stood still" },
      wholeUntilSeconds: last.soundSeconds,
    });
  });

  test("a sound that stood for 0.6 s and goes on by itself is found too", () => {
    const { watch, last } = watching();
    const hiccup = (_: number, look: Look) => ({ ...look, soundSeconds: look.soundSeconds - 0.6 });
    expect(until(watch, last, 1, hiccup)).toMatchObject({
      trouble: { kind: "stood still" },
      wholeUntilSeconds: last.soundSeconds,
    });
  });

  test.each(["suspended", "interrupted", "closed"])("a context that is %s stands still", (contextState) => {
    const { watch, last } = watching();
    expect(watch.look({ ...usual(1, last), contextState })?.trouble).toEqual({ kind: "stood still" });
    expect(new SoundWatch().look({ ...FIRST, contextState })?.trouble).toEqual({ kind: "stood still" });
  });

  test("three seconds without a reading are told, a window held up for as long is not", () => {
    const { watch, last } = watching();
    const deaf = (_: number, look: Look) => ({ ...look, readings: last.readings });
    expect(until(watch, last, 13, deaf)).toMatchObject({
      trouble: { kind: "no sound arrives" },
      wholeUntilSeconds: expect.closeTo(last.soundSeconds, 0),
    });
    const busy = watching();
    // One late look, and the readings of the time between come after it.
    expect(busy.watch.look({ ...usual(16, busy.last), readings: busy.last.readings })).toBeNull();
    expect(busy.watch.look(usual(17, busy.last))).toBeNull();
  });

  test("another device or another rate under the same stream is told", () => {
    const one = watching();
    expect(one.watch.look({ ...usual(1, one.last), deviceId: "headset" })?.trouble.kind).toBe(
      "another microphone",
    );
    const other = watching();
    expect(other.watch.look({ ...usual(1, other.last), rateHz: 16_000 })?.trouble).toEqual({
      kind: "rate changed",
      fromHz: 48_000,
      toHz: 16_000,
    });
    const silent = watching();
    expect(silent.watch.look({ ...usual(1, silent.last), rateHz: null })).toBeNull();
  });

  test("every trouble has one sentence and a way on", () => {
    const troubles = [
      { kind: "unplugged" },
      { kind: "muted" },
      { kind: "slept", seconds: 2400 },
      { kind: "stood still" },
      { kind: "no sound arrives" },
      { kind: "samples missing", seconds: 1.25 },
      { kind: "another microphone", name: "Headset" },
      { kind: "rate changed", fromHz: 48_000, toHz: 16_000 },
      { kind: "output gone", name: "Loudspeaker" },
      { kind: "sound failed" },
      { kind: "not looked at", how: "hidden" },
    ] as const;
    for (const trouble of troubles) {
      expect(troubleWords(trouble)).toMatch(/^[A-Z1].*[^.]\.$/);
      expect(wayOn(trouble)).toMatch(/start again$/i);
    }
    // [calc] 2400 s are 40 minutes
    expect(troubleWords(troubles[2])).toContain("40 minutes");
  });
});
