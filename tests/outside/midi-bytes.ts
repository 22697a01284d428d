/** A note for a MIDI file written by hand, so that no code of ours stands between the written notes and their sound. */
export interface MidiNote {
  readonly onSeconds: number;
  readonly offSeconds: number;
  readonly key: number;
}

/** Ticks are milliseconds: 1000 a crotchet at 60 crotchets a minute. [F] Standard MIDI Files 1.0. */
const TICKS_A_SECOND = 1000;

/**
 * Format-0 MIDI file on channel 1.
 *
 * @param program counted from 0: 22 is the harmonica of General MIDI
 */
export function midiBytes(program: number, notes: readonly MidiNote[]): Uint8Array {
  const events = notes.flatMap(({ onSeconds, offSeconds, key }) => [
    { tick: Math.round(onSeconds * TICKS_A_SECOND), bytes: [0x90, key, 100] },
    { tick: Math.round(offSeconds * TICKS_A_SECOND), bytes: [0x80, key, 0] },
  ]);
  events.sort((a, b) => a.tick - b.tick || (a.bytes[0] as number) - (b.bytes[0] as number));
  const track = [0, 0xff, 0x51, 3, 0x0f, 0x42, 0x40, 0, 0xc0, program];
  let tick = 0;
  for (const event of events) {
    track.push(...variableLength(event.tick - tick), ...event.bytes);
    tick = event.tick;
  }
  track.push(...variableLength(TICKS_A_SECOND / 2), 0xff, 0x2f, 0);
  const header = [..."MThd"].map((c) => c.charCodeAt(0));
  const trackTag = [..."MTrk"].map((c) => c.charCodeAt(0));
  return Uint8Array.from([
    ...header,
    ...u32(6),
    0,
    0,
    0,
    1,
    TICKS_A_SECOND >> 8,
    TICKS_A_SECOND & 255,
    ...trackTag,
    ...u32(track.length),
    ...track,
  ]);
}

const u32 = (value: number) => [value >>> 24, (value >> 16) & 255, (value >> 8) & 255, value & 255];

function variableLength(value: number): number[] {
  const bytes = [value & 127];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 127) | 128);
  return bytes;
}
