import { describe, expect, test } from "vitest";
import { writeWav } from "../../core/listen/wav.ts";
import { decodeRecording } from "../../renderer/audio/decode.ts";

const bufferOf = (bytes: Uint8Array): ArrayBuffer => new Uint8Array(bytes).buffer;

/** 8-bit mono at 8000 Hz: an hour in 29 MB. */
function longWav(seconds: number): ArrayBuffer {
  const count = 8000 * seconds;
  const view = new DataView(new ArrayBuffer(44 + count));
  const text = (at: number, letters: string) =>
    [...letters].forEach((letter, i) => {
      view.setUint8(at + i, letter.charCodeAt(0));
    });
  text(0, "RIFF");
  view.setUint32(4, 36 + count, true);
  text(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, 8000, true);
  view.setUint32(28, 8000, true);
  view.setUint16(32, 1, true);
  view.setUint16(34, 8, true);
  text(36, "data");
  view.setUint32(40, count, true);
  return view.buffer;
}

describe("a recording opened from disk", () => {
  test("a WAV keeps its own rate and every sample", async () => {
    const samples = Float32Array.of(0, 0.25, -0.5, 0.75);
    const read = await decodeRecording("take.wav", bufferOf(writeWav(samples, 96_000, "float32")));
    expect(read).toEqual({ kind: "take", samples, sampleRateHz: 96_000 });
  });

  test("is known as a WAV by its first bytes, whatever it is called", async () => {
    const bytes = bufferOf(writeWav(Float32Array.of(0.5), 48_000, "pcm16"));
    expect((await decodeRecording("take", bytes)).kind).toBe("take");
  });

  test.each(["notes.wav", "NOTES.WAV", "notes.wave"])(
    "a text called %s is no WAV, and that is said",
    async (name) => {
      const read = await decodeRecording(name, bufferOf(new TextEncoder().encode("some words about a tune")));
      expect(read).toEqual({ kind: "unreadable", reason: expect.stringMatching(/^not a WAV file/) });
    },
  );

  test("an hour can be marked, a second more cannot", async () => {
    expect((await decodeRecording("hour.wav", longWav(3600))).kind).toBe("take");
    expect(await decodeRecording("longer.wav", longWav(3601))).toEqual({
      kind: "unreadable",
      reason: "it lasts longer than the 60 minutes that can be marked",
    });
  });

  test("a file beyond 200 MB is refused before it is read", async () => {
    const read = await decodeRecording("huge.wav", new ArrayBuffer(200_000_001));
    expect(read).toEqual({ kind: "unreadable", reason: "it has 200 MB; at most 200 MB can be opened" });
  });
});
