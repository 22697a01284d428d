import { describe, expect, it } from "vitest";
import { readWav, type WavTake, writeWav } from "../../../core/listen/wav.ts";
import { bytesOf, chunk, fmt, riff, u16, u32 } from "./wav-bytes.ts";

/*
 * Layouts: [F] Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft, August 1991), chapter 3,
 * "Waveform Audio File Format"; EBU Tech 3285. The extensible header [M]: 40 bytes, code FFFE, the real code in the
 * first two bytes of the sub-format.
 */
const PCM = 1;
const FLOAT = 3;

function take(bytes: Uint8Array): WavTake {
  const reading = readWav(bytes);
  if (reading.kind !== "take") throw new Error(`unreadable: ${reading.reason}`);
  return reading;
}

function reason(bytes: Uint8Array): string {
  const reading = readWav(bytes);
  if (reading.kind !== "unreadable") throw new Error("was read");
  return reading.reason;
}

const mono16 = (...values: number[]) =>
  riff(
    chunk("fmt ", fmt(PCM, 1, 48_000, 16)),
    chunk(
      "data",
      values.flatMap((v) => u16(v & 0xffff)),
    ),
  );

describe("reading a WAV file", () => {
  // [calc] Full scale of n bits is 2^(n-1): 0x4000 of 16 bits is 16384/32768 = 0.5.
  it("reads 16-bit samples", () => {
    const { samples, sampleRateHz, channels, bitsPerSample, encoding } = take(
      mono16(0, 0x4000, -0x8000, 0x7fff),
    );
    expect([...samples]).toEqual([0, 0.5, -1, Math.fround(32_767 / 32_768)]);
    expect({ sampleRateHz, channels, bitsPerSample, encoding }).toEqual({
      sampleRateHz: 48_000,
      channels: 1,
      bitsPerSample: 16,
      encoding: "pcm",
    });
  });

  // [F] 8-bit samples are unsigned with 128 as the middle. [calc] (192 - 128) / 128 = 0.5.
  it("reads 8-bit samples, which alone are unsigned", () => {
    const bytes = riff(chunk("fmt ", fmt(PCM, 1, 8000, 8)), chunk("data", [128, 192, 0]));
    expect([...take(bytes).samples]).toEqual([0, 0.5, -1]);
  });

  // [calc] 0x400000 / 0x800000 = 0.5; 0xC00000 is -0x400000.
  it("reads 24-bit samples with their sign", () => {
    const bytes = riff(chunk("fmt ", fmt(PCM, 1, 96_000, 24)), chunk("data", [0, 0, 0x40, 0, 0, 0xc0]));
    expect([...take(bytes).samples]).toEqual([0.5, -0.5]);
  });

  it("reads 32-bit integer samples", () => {
    const bytes = riff(chunk("fmt ", fmt(PCM, 1, 48_000, 32)), chunk("data", [0, 0, 0, 0x40, 0, 0, 0, 0x80]));
    expect([...take(bytes).samples]).toEqual([0.5, -1]);
  });

  it("reads 32-bit and 64-bit float samples, also beyond full scale", () => {
    const f32 = bytesOf((view) => view.setFloat32(0, 1.5, true), 4);
    const f64 = bytesOf((view) => view.setFloat64(0, -0.25, true), 8);
    expect([...take(riff(chunk("fmt ", fmt(FLOAT, 1, 48_000, 32)), chunk("data", f32))).samples]).toEqual([
      1.5,
    ]);
    expect([...take(riff(chunk("fmt ", fmt(FLOAT, 1, 48_000, 64)), chunk("data", f64))).samples]).toEqual([
      -0.25,
    ]);
  });

  it("averages the channels", () => {
    const data = [u16(0x4000), u16(0), u16(-0x4000 & 0xffff), u16(0)].flat();
    const { samples, channels } = take(riff(chunk("fmt ", fmt(PCM, 2, 44_100, 16)), chunk("data", data)));
    expect(channels).toBe(2);
    expect([...samples]).toEqual([0.25, -0.25]); // [calc] (0.5 + 0) / 2
  });

  it("reads the extensible header by its sub-format", () => {
    const extension = [...u16(22), ...u16(24), ...u32(4), ...u16(PCM), ...new Array<number>(14).fill(0)];
    const header = [...fmt(0xfffe, 1, 48_000, 24), ...extension];
    expect([...take(riff(chunk("fmt ", header), chunk("data", [0, 0, 0x40]))).samples]).toEqual([0.5]);
  });

  it("skips chunks it does not know, padded to an even length", () => {
    const bytes = riff(
      chunk("LIST", [1, 2, 3]), // odd: one padding byte follows
      chunk("fmt ", fmt(PCM, 1, 48_000, 16)),
      chunk("bext", new Array<number>(603).fill(0)),
      chunk("data", u16(0x4000)),
    );
    expect([...take(bytes).samples]).toEqual([0.5]);
  });

  it("ignores what follows the data chunk, and the length of the whole that RIFF claims", () => {
    const bytes = mono16(0x4000);
    const longer = new Uint8Array([...bytes, ...chunk("junk", [1, 2]), 9]);
    new DataView(longer.buffer).setUint32(4, 12, true);
    expect([...take(longer).samples]).toEqual([0.5]);
  });

  it("reads from a view into a larger buffer", () => {
    const bytes = mono16(0x4000);
    const padded = new Uint8Array(bytes.length + 7);
    padded.set(bytes, 7);
    expect([...take(padded.subarray(7)).samples]).toEqual([0.5]);
  });

  it("leaves out the bytes of half a frame, and says so", () => {
    const bytes = riff(chunk("fmt ", fmt(PCM, 1, 48_000, 16)), chunk("data", [0, 0x40, 5]));
    const { samples, warnings } = take(bytes);
    expect([...samples]).toEqual([0.5]);
    expect(warnings).toEqual(["1 bytes at the end do not make a whole frame and were left out"]);
  });

  it("takes samples that are no numbers as silence, and says how many there were", () => {
    const f32 = bytesOf((view) => {
      view.setFloat32(0, Number.NaN, true);
      view.setFloat32(4, Number.POSITIVE_INFINITY, true);
      view.setFloat32(8, 0.5, true);
    }, 12);
    const { samples, warnings } = take(riff(chunk("fmt ", fmt(FLOAT, 1, 48_000, 32)), chunk("data", f32)));
    expect([...samples]).toEqual([0, 0, 0.5]);
    expect(warnings).toEqual(["2 samples were not finite numbers and were taken as silence"]);
  });
});

describe("refusing a WAV file, with the reason", () => {
  const fmt16 = chunk("fmt ", fmt(PCM, 1, 48_000, 16));
  const cases: readonly (readonly [string, Uint8Array, RegExp])[] = [
    ["an empty file", new Uint8Array(0), /empty/],
    ["a text file", new TextEncoder().encode("X:1\nT:a tune\nK:D\n"), /not a WAV file/],
    ["another RIFF file", riff().map((b, i) => (i === 8 ? 65 : b)), /not a WAV file/],
    ["RF64", riff().map((b, i) => [82, 70, 54, 52][i] ?? b), /RF64/],
    ["a bare RIFF tag", new TextEncoder().encode("RIFF"), /truncated/],
    ["no fmt chunk", riff(chunk("LIST", [0, 0])), /no fmt chunk/],
    ["no data chunk", riff(fmt16), /no data chunk/],
    ["data before fmt", riff(chunk("data", [0, 0]), fmt16), /before the fmt/],
    ["no samples", riff(fmt16, chunk("data", [])), /no samples/],
    ["a short fmt chunk", riff(chunk("fmt ", [1, 0]), chunk("data", [0, 0])), /2 bytes; at least 16/],
    ["a compressed file", riff(chunk("fmt ", fmt(0x55, 1, 48_000, 16)), chunk("data", [0, 0])), /coding 85/],
    ["12-bit samples", riff(chunk("fmt ", fmt(PCM, 1, 48_000, 12)), chunk("data", [0, 0])), /12-bit pcm/],
    ["16-bit float", riff(chunk("fmt ", fmt(FLOAT, 1, 48_000, 16)), chunk("data", [0, 0])), /16-bit float/],
    ["no channels", riff(chunk("fmt ", fmt(PCM, 0, 48_000, 16)), chunk("data", [0, 0])), /0 channels/],
    [
      "too many channels",
      riff(chunk("fmt ", fmt(PCM, 4000, 48_000, 16)), chunk("data", [0, 0])),
      /4000 channels/,
    ],
    ["too low a rate", riff(chunk("fmt ", fmt(PCM, 1, 4000, 16)), chunk("data", [0, 0])), /4000 Hz/],
    ["too high a rate", riff(chunk("fmt ", fmt(PCM, 1, 384_000, 16)), chunk("data", [0, 0])), /384000 Hz/],
  ];
  it.each(cases)("%s", (_name, bytes, expected) => {
    expect(reason(bytes)).toMatch(expected);
  });

  it("a file cut short, with both lengths", () => {
    expect(reason(mono16(1, 2, 3).subarray(0, 46))).toBe(
      "truncated: the data chunk says 6 bytes, the file has 2", // [calc] 44 bytes of header, 46 - 44 = 2
    );
  });

  it("a claim of nearly 4 GB, without making room for it", () => {
    const bytes = mono16(1, 2);
    new DataView(bytes.buffer).setUint32(40, 0xffff_fffe, true);
    expect(reason(bytes)).toMatch(/says 4294967294 bytes, the file has 4/);
  });

  it("a chunk length that runs past the end of the file", () => {
    const bytes = riff(chunk("LIST", [0, 0]), fmt16);
    new DataView(bytes.buffer).setUint32(16, 0xffff_fff0, true);
    expect(reason(bytes)).toBe("no fmt chunk");
  });

  it("every file cut off anywhere in its header, without throwing", () => {
    const bytes = mono16(1, 2);
    for (let length = 0; length < 44; length++) expect(reason(bytes.subarray(0, length))).not.toBe("");
  });
});

describe("writing a WAV file", () => {
  const samples = Float32Array.from([0, 0.25, -1, 0.999]);

  it("keeps float samples exactly", () => {
    expect([...take(writeWav(samples, 44_100, "float32")).samples]).toEqual([...samples]);
  });

  it("keeps 16-bit samples within half a step and clips beyond full scale", () => {
    const read = take(writeWav(Float32Array.from([...samples, 2, -2]), 48_000, "pcm16")).samples;
    samples.forEach((value, i) => {
      expect(Math.abs((read[i] as number) - value)).toBeLessThanOrEqual(0.5 / 32_768);
    });
    expect([read[4], read[5]]).toEqual([Math.fround(32_767 / 32_768), -1]);
  });

  it("refuses a sample rate no reader would take", () => {
    expect(() => writeWav(samples, 0, "pcm16")).toThrow(/sample rate/);
  });
});
