/** Pieces of WAV files put together by hand, so that the reader is not tested against our own writer. */

export const u16 = (value: number): number[] => [value & 255, (value >> 8) & 255];
export const u32 = (value: number): number[] => [...u16(value & 0xffff), ...u16(value >>> 16)];

export function bytesOf(write: (view: DataView) => void, length: number): number[] {
  const view = new DataView(new ArrayBuffer(length));
  write(view);
  return [...new Uint8Array(view.buffer)];
}

/** Tag, length, contents, and a padding byte where the length is odd. */
export function chunk(id: string, contents: readonly number[]): number[] {
  const pad = contents.length % 2 === 1 ? [0] : [];
  return [...new TextEncoder().encode(id), ...u32(contents.length), ...contents, ...pad];
}

/** Contents of a plain fmt chunk, 16 bytes. */
export function fmt(code: number, channels: number, rate: number, bits: number): number[] {
  const block = (channels * bits) / 8;
  return [...u16(code), ...u16(channels), ...u32(rate), ...u32(rate * block), ...u16(block), ...u16(bits)];
}

export function riff(...chunks: readonly (readonly number[])[]): Uint8Array {
  const body = chunks.flat();
  const encoder = new TextEncoder();
  return new Uint8Array([
    ...encoder.encode("RIFF"),
    ...u32(4 + body.length),
    ...encoder.encode("WAVE"),
    ...body,
  ]);
}
