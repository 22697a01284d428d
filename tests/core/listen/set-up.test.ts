import { describe, expect, test } from "vitest";
import { countDropouts } from "../../../core/listen/dropouts.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { judgeSetUp } from "../../../core/listen/set-up.ts";
import { noise, take } from "./signals.ts";

const RATE_HZ = 44_100;

/** Two notes of two seconds and eight of a quarter, after a second of quiet: the test phrase. */
function phrase(dbfs: number) {
  const tone = (onSeconds: number, offSeconds: number, hz: number) => ({ onSeconds, offSeconds, hz, dbfs });
  const quick = [784, 880, 988, 1175, 1319, 1175, 988, 880];
  return take(RATE_HZ, 10, [
    tone(1, 2.9, 784),
    tone(3, 4.9, 880),
    ...quick.map((hz, n) => tone(5.2 + 0.3 * n, 5.45 + 0.3 * n, hz)),
  ]);
}

function faultsOf(samples: Float32Array, lostSamples = 0): readonly string[] {
  const listening = listenToTake(samples, RATE_HZ);
  const report = judgeSetUp({ listening, lostSamples, dropouts: countDropouts(samples, RATE_HZ) });
  return report.faults.map(({ kind }) => kind);
}

function withNoise(samples: Float32Array, rms: number): Float32Array {
  const hiss = noise(samples.length, rms, 4);
  return samples.map((sample, n) => sample + (hiss[n] ?? 0));
}

const QUIET_ROOM_RMS = 10 ** (-70 / 20);

describe("the test phrase", () => {
  test("finds nothing to mend in a good set-up, and counts ten notes", () => {
    const samples = withNoise(phrase(-20), QUIET_ROOM_RMS);
    expect(faultsOf(samples)).toEqual([]);
    const listening = listenToTake(samples, RATE_HZ);
    const report = judgeSetUp({ listening, lostSamples: 0, dropouts: 0 });
    expect(report.notes).toBe(10);
    expect(report.levelDbfs).toBeGreaterThan(-23); // played at -20 dBFS
    expect(report.levelDbfs).toBeLessThan(-17);
  });

  test("tells silence, a microphone far off, and a noisy room apart", () => {
    expect(faultsOf(new Float32Array(10 * RATE_HZ))).toEqual(["nothing heard"]);
    expect(faultsOf(phrase(-56))).toEqual(["too quiet"]);
    // [calc] white noise at -33 dBFS to 22 kHz: the notes stand 13 dB above it, and 16 above its part up to 10 kHz
    expect(faultsOf(withNoise(phrase(-20), 10 ** (-33 / 20)))).toContain("noise");
  });

  test("tells too few notes from notes too quiet", () => {
    const two = take(RATE_HZ, 10, [{ onSeconds: 1, offSeconds: 3, hz: 784, dbfs: -20 }]);
    expect(faultsOf(withNoise(two, QUIET_ROOM_RMS))).toEqual(["few notes"]);
  });

  test("hears a microphone that is driven too hard", () => {
    const loud = phrase(-3).map((sample) => Math.max(-1, Math.min(1, 3 * sample)));
    expect(faultsOf(withNoise(loud, 0).map((sample) => Math.max(-1, Math.min(1, sample))))).toContain(
      "clipping",
    );
  });

  test("hears held notes cut off, as noise suppression does", () => {
    const gated = phrase(-20).map((sample, n) => {
      const at = n / RATE_HZ;
      // After 0.6 s of a steady sound it is taken for noise and turned down by 60 dB, the room's own hiss is left.
      const held = (at > 1.6 && at < 3) || (at > 3.6 && at < 5);
      return held ? sample / 1000 : sample;
    });
    const samples = withNoise(gated, QUIET_ROOM_RMS);
    expect(faultsOf(samples)).toEqual(["held notes break off"]);
  });

  test("counts holes in the sound and samples that never came, but not the pauses of a synthetic sound", () => {
    const samples = withNoise(phrase(-20), QUIET_ROOM_RMS);
    for (const at of [1.5, 2.1, 4]) samples.fill(0, at * RATE_HZ, at * RATE_HZ + 441);
    expect(countDropouts(samples, RATE_HZ)).toBe(3);
    expect(faultsOf(samples)).toEqual(["dropouts"]);
    expect(faultsOf(withNoise(phrase(-20), QUIET_ROOM_RMS), 128)).toEqual(["dropouts"]);
    expect(countDropouts(phrase(-20), RATE_HZ)).toBe(0);
  });
});
