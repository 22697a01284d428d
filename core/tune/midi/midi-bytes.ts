/** Text events by what they say: Standard MIDI Files 1.0, meta events 1 to 7. */
const TEXTS = { copyright: 0x02, name: 0x03 } as const;

interface Timed {
  readonly at: number;
  readonly bytes: readonly number[];
  /** Ends of notes go before beginnings at the same moment, so that a note sounded again is not cut. */
  readonly rank: number;
}

/** A track to be: events in any order. */
export class MidiTrack {
  readonly #events: Timed[] = [];

  /** A channel event: status and data bytes. */
  event(at: number, bytes: readonly number[]): void {
    const status = (bytes[0] ?? 0) & 0xf0;
    this.#events.push({ at, bytes, rank: status === 0x80 ? 1 : status === 0x90 ? 3 : 2 });
  }

  meta(at: number, type: number, bytes: readonly number[]): void {
    this.#events.push({ at, bytes: [0xff, type, ...variableLength(bytes.length), ...bytes], rank: 0 });
  }

  text(at: number, kind: keyof typeof TEXTS, text: string): void {
    this.meta(at, TEXTS[kind], utf8(text));
  }

  /** The chunk's content, ended at `end` or, if that is later, at its last event. */
  bytes(end: number): readonly number[] {
    const sorted = this.#events.toSorted((one, other) => one.at - other.at || one.rank - other.rank);
    const content: number[] = [];
    let now = 0;
    for (const { at, bytes } of sorted) {
      // A text may be longer than a call can have arguments.
      for (const byte of [...variableLength(at - now), ...bytes]) content.push(byte);
      now = at;
    }
    content.push(...variableLength(Math.max(0, end - now)), 0xff, 0x2f, 0x00);
    return content;
  }
}

/** Header and tracks as one file. */
export function midiFile(
  format: number,
  division: number,
  tracks: readonly (readonly number[])[],
): Uint8Array {
  const header = [...twoBytes(format), ...twoBytes(tracks.length), ...twoBytes(division)];
  const chunks = [chunk("MThd", header), ...tracks.map((track) => chunk("MTrk", track))];
  const file = new Uint8Array(chunks.reduce((sum, one) => sum + one.length, 0));
  let at = 0;
  for (const one of chunks) {
    file.set(one, at);
    at += one.length;
  }
  return file;
}

function chunk(id: string, content: readonly number[]): Uint8Array {
  const length = content.length;
  const head = [...id].map((letter) => letter.charCodeAt(0));
  const bytes = new Uint8Array(8 + length);
  bytes.set([...head, ...twoBytes(length >>> 16), ...twoBytes(length & 0xffff)]);
  bytes.set(content, 8);
  return bytes;
}

const twoBytes = (value: number) => [(value >> 8) & 0xff, value & 0xff];

/** Seven bits a byte, highest first, the top bit set on all but the last. */
export function variableLength(value: number): number[] {
  const bytes = [value & 0x7f];
  for (let left = value >>> 7; left > 0; left >>>= 7) bytes.unshift((left & 0x7f) | 0x80);
  return bytes;
}

function utf8(text: string): number[] {
  return [...text].flatMap((letter) => {
    const point = letter.codePointAt(0) ?? 0;
    if (point < 0x80) return [point];
    const low = (shift: number) => 0x80 | ((point >> shift) & 0x3f);
    if (point < 0x800) return [0xc0 | (point >> 6), low(0)];
    if (point < 0x10000) return [0xe0 | (point >> 12), low(6), low(0)];
    return [0xf0 | (point >> 18), low(12), low(6), low(0)];
  });
}
