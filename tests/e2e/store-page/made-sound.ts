import { seededRandom } from "../../../core/exercise/seeded-random.ts";

export const MADE_RATE_HZ = 48_000;
/** A fortieth of a second: so short that many are written in a second. */
const PIECE_SAMPLES = 1200;

/** The piece of a made-up take, as a sound card gives it. */
export function soundOf(seed: number, piece: number): Float32Array {
  const random = seededRandom(10_000 * seed + piece);
  return Float32Array.from({ length: PIECE_SAMPLES }, () => Math.round(2000 * (random() - 0.5)) / 32_768 + 0);
}

/** The first pieces of it on end. */
export function takeOf(seed: number, pieces: number): Float32Array {
  const samples = new Float32Array(pieces * PIECE_SAMPLES);
  for (let piece = 0; piece < pieces; piece++) samples.set(soundOf(seed, piece), piece * PIECE_SAMPLES);
  return samples;
}

export const piecesIn = (samples: number): number => samples / PIECE_SAMPLES;

/** Of every bit. Source: Fowler, Noll and Vo, FNV-1a with 32 bits, over whole words. */
export function printOf(samples: Float32Array): number {
  const words = new Uint32Array(samples.buffer, samples.byteOffset, samples.length);
  let print = 0x811c9dc5;
  for (const word of words) print = Math.imul(print ^ word, 0x01000193);
  return print >>> 0;
}
