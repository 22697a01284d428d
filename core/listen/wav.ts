import { LIMITS } from "../reading/limits.ts";
import { type Hz, hz } from "../units.ts";
import { mixDown } from "./mix-down.ts";

/** A WAV file that could be read. */
export interface WavTake {
  readonly kind: "take";
  readonly sampleRateHz: Hz;
  /** All channels as one (`mixDown`); nominally -1..1, beyond it only for float files. */
  readonly samples: Float32Array;
  readonly channels: number;
  /** As stored: 8, 16, 24, 32 or 64. */
  readonly bitsPerSample: number;
  readonly encoding: "pcm" | "float";
  /** One line each; empty when nothing was odd. */
  readonly warnings: readonly string[];
}

export type WavReading = WavTake | { readonly kind: "unreadable"; readonly reason: string };

interface Format {
  readonly encoding: "pcm" | "float";
  readonly channels: number;
  readonly sampleRateHz: number;
  readonly bitsPerSample: number;
  readonly blockBytes: number;
}

type Outcome<T> = { readonly ok: T } | { readonly reason: string };

const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;
const LOWEST_RATE_HZ = 8000;
const HIGHEST_RATE_HZ = 192_000;
/** Bits allowed for each encoding. */
const BITS = { pcm: [8, 16, 24, 32], float: [32, 64] } as const;

/**
 * Reads a RIFF/WAVE file: integer PCM of 8, 16, 24 or 32 bits, float of 32 or 64, plain or extensible header.
 * Never allocates by what the header claims, only by the bytes that are there.
 *
 * @param bytes the whole file
 * @returns the take, all channels as one; or why it cannot be read, in one line
 *
 * Source: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991), chapter 3;
 * EBU Tech 3285 (Broadcast Wave). Differs: a data chunk longer than the file is refused, not cut.
 */
export function readWav(bytes: Uint8Array): WavReading {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const wrong = wrongKind(bytes);
  if (wrong) return { kind: "unreadable", reason: wrong };
  let format: Format | null = null;
  for (let at = 12; at + 8 <= bytes.length; ) {
    const id = tag(bytes, at);
    const length = view.getUint32(at + 4, true);
    const start = at + 8;
    if (id === "fmt ") {
      const read = readFormat(view, start, length);
      if ("reason" in read) return { kind: "unreadable", reason: read.reason };
      format = read.ok;
    }
    if (id === "data") {
      if (!format) return { kind: "unreadable", reason: "the data chunk comes before the fmt chunk" };
      return readData(view, start, length, format);
    }
    at = start + length + (length % 2); // chunks are padded to an even length
  }
  return { kind: "unreadable", reason: format ? "no data chunk" : "no fmt chunk" };
}

function wrongKind(bytes: Uint8Array): string | null {
  if (bytes.length === 0) return "an empty file";
  const id = tag(bytes, 0);
  if (id === "RF64" || id === "BW64") return `${id} (over 4 GB) is not supported; save it as plain WAV`;
  if (id === "RIFX") return "big-endian WAV (RIFX) is not supported";
  if (id !== "RIFF") return "not a WAV file: it does not begin with RIFF";
  if (bytes.length < 12) return `truncated: the file has only ${bytes.length} bytes`;
  return tag(bytes, 8) === "WAVE" ? null : "not a WAV file: RIFF, but not of the WAVE kind";
}

const tag = (bytes: Uint8Array, at: number) => String.fromCharCode(...bytes.subarray(at, at + 4));

function readFormat(view: DataView, at: number, length: number): Outcome<Format> {
  if (length < 16) return { reason: `the fmt chunk has ${length} bytes; at least 16 are needed` };
  if (at + length > view.byteLength) return { reason: "truncated: the file ends inside the fmt chunk" };
  let code = view.getUint16(at, true);
  const bitsPerSample = view.getUint16(at + 14, true);
  // An extensible header keeps the real code in the first two bytes of its sub-format.
  if (code === EXTENSIBLE && length >= 40) code = view.getUint16(at + 24, true);
  const encoding = code === PCM ? "pcm" : code === FLOAT ? "float" : null;
  if (!encoding) return { reason: `sound coding ${code} is not supported; save it as PCM or float` };
  return checkedFormat({
    encoding,
    channels: view.getUint16(at + 2, true),
    sampleRateHz: view.getUint32(at + 4, true),
    bitsPerSample,
    blockBytes: view.getUint16(at + 12, true),
  });
}

function checkedFormat(format: Format): Outcome<Format> {
  const { channels, sampleRateHz, bitsPerSample, blockBytes } = format;
  const bits: readonly number[] = BITS[format.encoding];
  if (!bits.includes(bitsPerSample)) {
    return { reason: `${bitsPerSample}-bit ${format.encoding} is not supported (${bits.join(", ")} are)` };
  }
  if (channels < 1 || channels > LIMITS.soundChannels.most) {
    return { reason: `${channels} channels; 1 to ${LIMITS.soundChannels.most} are supported` };
  }
  if (sampleRateHz < LOWEST_RATE_HZ || sampleRateHz > HIGHEST_RATE_HZ) {
    return {
      reason: `a sample rate of ${sampleRateHz} Hz; ${LOWEST_RATE_HZ} to ${HIGHEST_RATE_HZ} are supported`,
    };
  }
  const expected = (channels * bitsPerSample) / 8;
  if (blockBytes !== expected) {
    return {
      reason: `the header says ${blockBytes} bytes a frame, but its channels and bits make ${expected}`,
    };
  }
  return { ok: format };
}

function readData(view: DataView, start: number, length: number, format: Format): WavReading {
  const there = view.byteLength - start;
  if (length > there) {
    const reason = `truncated: the data chunk says ${length} bytes, the file has ${there}`;
    return { kind: "unreadable", reason };
  }
  const frames = Math.floor(length / format.blockBytes);
  if (frames === 0) return { kind: "unreadable", reason: "no samples in it" };
  const warnings: string[] = [];
  const over = length % format.blockBytes;
  if (over > 0) warnings.push(`${over} bytes at the end do not make a whole frame and were left out`);
  const { samples, broken, cancelled } = oneChannel(view, start, frames, format);
  if (broken > 0) warnings.push(`${broken} samples were not finite numbers and were taken as silence`);
  if (cancelled) warnings.push("the channels cancel each other out; the loudest one was taken");
  const { channels, bitsPerSample, encoding } = format;
  return {
    kind: "take",
    sampleRateHz: hz(format.sampleRateHz),
    samples,
    channels,
    bitsPerSample,
    encoding,
    warnings,
  };
}

function oneChannel(view: DataView, start: number, frames: number, format: Format) {
  const { channels } = format;
  if (format.encoding === "pcm" && format.bitsPerSample === 16 && channels === 1) {
    return { samples: mono16(view, start, frames), broken: 0, cancelled: false };
  }
  const read = sampleReader(view, format);
  const bytes = format.bitsPerSample / 8;
  const mixed = mixDown(frames, channels, (i, out) => {
    for (let c = 0; c < channels; c++) {
      const value = read(start + i * format.blockBytes + c * bytes);
      out[c] = isSample(value) ? value : 0;
    }
  });
  const broken = format.encoding === "float" ? countBroken(read, start, frames * channels, bytes) : 0;
  return { ...mixed, broken };
}

function countBroken(read: (at: number) => number, start: number, count: number, bytes: number): number {
  let broken = 0;
  for (let n = 0; n < count; n++) if (!isSample(read(start + n * bytes))) broken++;
  return broken;
}

/** A float of 64 bits may be more than the 32 of a sample hold. */
const isSample = (value: number): boolean => Number.isFinite(Math.fround(value));

/** By far the commonest kind, in pieces: a function called often is made fast sooner than one long loop. */
function mono16(view: DataView, start: number, frames: number): Float32Array {
  const samples = new Float32Array(frames);
  for (let i = 0; i < frames; i += PIECE) read16(view, start + 2 * i, samples.subarray(i, i + PIECE));
  return samples;
}

const PIECE = 1024;

function read16(view: DataView, start: number, out: Float32Array): void {
  for (let i = 0; i < out.length; i++) out[i] = view.getInt16(start + 2 * i, true) / 32_768;
}

/** Full scale of n-bit PCM is 2^(n-1); only 8-bit is unsigned. */
function sampleReader(view: DataView, { encoding, bitsPerSample }: Format): (at: number) => number {
  if (encoding === "float") {
    return bitsPerSample === 64 ? (at) => view.getFloat64(at, true) : (at) => view.getFloat32(at, true);
  }
  switch (bitsPerSample) {
    case 8:
      return (at) => (view.getUint8(at) - 128) / 128;
    case 16:
      return (at) => view.getInt16(at, true) / 32_768;
    case 24:
      return (at) => ((view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / 8_388_608;
    default:
      return (at) => view.getInt32(at, true) / 2_147_483_648;
  }
}

/**
 * Writes one channel as a WAV file.
 *
 * @param samples      -1..1; `pcm16` clips what lies beyond, `float32` keeps it
 * @param sampleRateHz whole number, 8,000..192,000
 * @throws RangeError for a sample rate outside that
 */
export function writeWav(
  samples: Float32Array,
  sampleRateHz: number,
  format: "float32" | "pcm16",
): Uint8Array {
  if (!Number.isInteger(sampleRateHz) || sampleRateHz < LOWEST_RATE_HZ || sampleRateHz > HIGHEST_RATE_HZ) {
    throw new RangeError(`a sample rate of ${sampleRateHz} Hz cannot be written`);
  }
  const float = format === "float32";
  const width = float ? 4 : 2;
  // A float file carries a fact chunk with its length in frames (1991 specification, revision of 1994).
  const headerBytes = float ? 56 : 44;
  const dataBytes = samples.length * width;
  const view = new DataView(new ArrayBuffer(headerBytes + dataBytes));
  writeTag(view, 0, "RIFF");
  view.setUint32(4, headerBytes - 8 + dataBytes, true);
  writeTag(view, 8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, float ? FLOAT : PCM, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, sampleRateHz * width, true);
  view.setUint16(32, width, true);
  view.setUint16(34, width * 8, true);
  if (float) {
    writeTag(view, 36, "fact");
    view.setUint32(40, 4, true);
    view.setUint32(44, samples.length, true);
  }
  writeTag(view, headerBytes - 8, "data");
  view.setUint32(headerBytes - 4, dataBytes, true);
  for (let i = 0; i < samples.length; i++) {
    const value = samples[i] as number;
    const at = headerBytes + i * width;
    if (float) view.setFloat32(at, value, true);
    else view.setInt16(at, Math.max(-32_768, Math.min(32_767, Math.round(value * 32_768))), true);
  }
  return new Uint8Array(view.buffer);
}

function writeTag(view: DataView, at: number, text: string): void {
  for (let i = 0; i < text.length; i++) view.setUint8(at + i, text.charCodeAt(i));
}
