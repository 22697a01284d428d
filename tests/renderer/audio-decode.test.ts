import { describe, expect, test } from "vitest";
import { writeWav } from "../../core/listen/wav.ts";
import { decodeRecording, isWav } from "../../renderer/audio/decode.ts";
import { whyTooLarge } from "../../renderer/audio/file-limit.ts";
import { readSound } from "../../renderer/audio/read-sound.ts";
import { longWav } from "../support/long-wav.ts";

const bufferOf = (bytes: Uint8Array): ArrayBuffer => new Uint8Array(bytes).buffer;

describe("a recording opened from disk", () => {
  test("a WAV keeps its own rate and every sample", () => {
    const samples = Float32Array.of(0, 0.25, -0.5, 0.75);
    const read = readSound({ kind: "WAV", bytes: bufferOf(writeWav(samples, 96_000, "float32")) });
    expect(read).toEqual({ kind: "take", samples, sampleRateHz: 96_000 });
  });

  test("channels that the browser decoded become their mean", () => {
    const channels = [Float32Array.of(0.5, 0.25), Float32Array.of(0, 0.25)];
    const read = readSound({ kind: "channels", channels, sampleRateHz: 48_000 });
    expect(read).toEqual({ kind: "take", samples: Float32Array.of(0.25, 0.25), sampleRateHz: 48_000 });
  });

  test("is known as a WAV by its first bytes, whatever it is called, or by its name", () => {
    expect(isWav("take", bufferOf(writeWav(Float32Array.of(0.5), 48_000, "pcm16")))).toBe(true);
    const words = bufferOf(new TextEncoder().encode("some words about a tune"));
    expect(["notes.wav", "NOTES.WAV", "notes.wave"].map((name) => isWav(name, words))).toEqual([
      true,
      true,
      true,
    ]);
    expect(isWav("notes.txt", words)).toBe(false);
    expect(readSound({ kind: "WAV", bytes: words })).toEqual({
      kind: "unreadable",
      reason: expect.stringMatching(/^not a WAV file/),
    });
  });

  test("an hour can be marked, a second more cannot", () => {
    expect(readSound({ kind: "WAV", bytes: longWav(3600).buffer }).kind).toBe("take");
    expect(readSound({ kind: "WAV", bytes: longWav(3601).buffer })).toEqual({
      kind: "unreadable",
      reason: "it lasts longer than the 60 minutes that can be marked",
    });
  });

  test("a file beyond 200 MB is refused before it is read", async () => {
    expect(whyTooLarge(200_000_000)).toBeNull();
    const read = await decodeRecording("huge.wav", new ArrayBuffer(200_000_001));
    expect(read).toEqual({ kind: "unreadable", reason: "it has 200 MB; at most 200 MB can be opened" });
  });
});
