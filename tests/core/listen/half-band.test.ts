import { describe, expect, it } from "vitest";
import { HalfBand } from "../../../core/listen/half-band.ts";

/** Amplitude after halving, of a sine of amplitude 1 at a share of the incoming sample rate. */
function gain(share: number): number {
  const input = Float64Array.from({ length: 8192 }, (_, i) => Math.sin(2 * Math.PI * share * i + 0.3));
  const out = Float64Array.from(new HalfBand().push(input)).subarray(200, 3800);
  return Math.sqrt((2 * out.reduce((sum, value) => sum + value * value, 0)) / out.length);
}

describe("halving the sample rate", () => {
  // 10 kHz of 48 kHz: the harmonics that carry a reed's pitch. 0.1 dB is far below what matters for it.
  it.each([0.005, 0.05, 0.1, 0.15, 0.2])("keeps what lies at %d of the rate", (share) => {
    expect(Math.abs(20 * Math.log10(gain(share)))).toBeLessThan(0.1);
  });

  it.each([0.31, 0.35, 0.4, 0.45, 0.49])("takes away what would fold back from %d of the rate", (share) => {
    expect(20 * Math.log10(gain(share))).toBeLessThan(-50);
  });

  it("neither delays nor advances: output n lies at input 2n", () => {
    const input = Float64Array.from({ length: 400 }, (_, i) => Math.sin(0.1 * i));
    const out = new HalfBand().push(input);
    for (let n = 50; n < 150; n++) expect(out[n]).toBeCloseTo(Math.sin(0.2 * n), 3);
  });

  it("gives the same in pieces as in one", () => {
    const input = Float64Array.from({ length: 1000 }, (_, i) => Math.sin(0.37 * i) + Math.sin(1.1 * i * i));
    const once = new HalfBand();
    const whole = [...once.push(input), ...once.finish()];
    const pieces = new HalfBand();
    const parts: number[] = [];
    for (let at = 0; at < 1000; at += 7) parts.push(...pieces.push(input.subarray(at, at + 7)));
    parts.push(...pieces.finish());
    expect(parts).toEqual(whole);
    expect(whole).toHaveLength(500);
  });
});
