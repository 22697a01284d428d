/** MIDI files written by hand, byte by byte as the standard has them, so that no code of ours stands in between. */

/** Header chunk and track chunks. */
export function midiFile(tracks: readonly (readonly number[])[], format = 1, division = 480): Uint8Array {
  const head = [
    0x4d,
    0x54,
    0x68,
    0x64,
    0,
    0,
    0,
    6,
    0,
    format,
    0,
    tracks.length,
    division >> 8,
    division & 0xff,
  ];
  return new Uint8Array([...head, ...tracks.flatMap((track) => chunk(track))]);
}

const chunk = (content: readonly number[]) => [
  ...[0x4d, 0x54, 0x72, 0x6b, 0, 0],
  content.length >> 8,
  content.length & 0xff,
  ...content,
];

/** Text of a meta event: 3 is a track's name, 2 a copyright. */
export const text = (type: number, words: string) => [
  0,
  0xff,
  type,
  words.length,
  ...[...words].map((letter) => letter.charCodeAt(0)),
];
/** Meta events at the place before them. */
export const tempo = (microseconds: number) => [
  ...[0, 0xff, 0x51, 3],
  (microseconds >> 16) & 0xff,
  (microseconds >> 8) & 0xff,
  microseconds & 0xff,
];
export const metre = (beats: number, powerOfTwo: number, after = 0) => [
  ...lengthOf(after),
  ...[0xff, 0x58, 4, beats, powerOfTwo, 24, 8],
];
export const key = (fifths: number, minor: 0 | 1) => [0, 0xff, 0x59, 2, fifths & 0xff, minor];
export const END = [0, 0xff, 0x2f, 0];

/** A pitch held for so many ticks, begun so many after what was before. */
export const note = (pitch: number, ticks: number, after = 0, channel = 0) => [
  ...[...lengthOf(after), 0x90 + channel, pitch, 80],
  ...[...lengthOf(ticks), 0x80 + channel, pitch, 0],
];

/** Seven bits a byte; below 16,384 two are enough. */
export const lengthOf = (ticks: number) => (ticks < 128 ? [ticks] : [0x80 | (ticks >> 7), ticks & 0x7f]);
