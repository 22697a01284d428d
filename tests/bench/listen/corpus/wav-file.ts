import { readFileSync, writeFileSync } from "node:fs";
import { SAMPLE_RATE_HZ } from "./truth.ts";

/** The bench reads and writes its own files, so that maker and judge share no code with the program. */
export interface Sound {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** 48 kHz, mono, 16 bits; what lies beyond -1..1 is clipped. */
export function writeSound(path: string, samples: Float64Array | Float32Array): void {
  const bytes = Buffer.alloc(44 + samples.length * 2);
  bytes.write("RIFF", 0);
  bytes.writeUInt32LE(36 + samples.length * 2, 4);
  bytes.write("WAVEfmt ", 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(SAMPLE_RATE_HZ, 24);
  bytes.writeUInt32LE(SAMPLE_RATE_HZ * 2, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write("data", 36);
  bytes.writeUInt32LE(samples.length * 2, 40);
  samples.forEach((value, i) => {
    bytes.writeInt16LE(Math.max(-32768, Math.min(32767, Math.round(value * 32767))), 44 + 2 * i);
  });
  writeFileSync(path, bytes);
}

/**
 * A file of 16 bits, several channels averaged.
 *
 * @throws Error for other depths and for what is no WAV file
 */
export function readSound(path: string): Sound {
  const bytes = readFileSync(path);
  let channels = 1;
  let sampleRateHz = SAMPLE_RATE_HZ;
  for (let at = 12; at + 8 <= bytes.length; ) {
    const id = bytes.toString("latin1", at, at + 4);
    const length = bytes.readUInt32LE(at + 4);
    if (id === "fmt ") {
      channels = bytes.readUInt16LE(at + 10);
      sampleRateHz = bytes.readUInt32LE(at + 12);
      if (bytes.readUInt16LE(at + 22) !== 16) throw new Error(`${path}: the bench reads 16 bits only`);
    }
    if (id === "data") {
      const frames = Math.floor(Math.min(length, bytes.length - at - 8) / 2 / channels);
      return { samples: averaged(bytes, at + 8, frames, channels), sampleRateHz };
    }
    at += 8 + length + (length & 1);
  }
  throw new Error(`${path}: no sound in it`);
}

function averaged(bytes: Buffer, from: number, frames: number, channels: number): Float32Array {
  return Float32Array.from({ length: frames }, (_, i) => {
    let sum = 0;
    for (let c = 0; c < channels; c++) sum += bytes.readInt16LE(from + 2 * (i * channels + c));
    return sum / channels / 32768;
  });
}
