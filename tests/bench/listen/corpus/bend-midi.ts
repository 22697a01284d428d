/** A note of a MIDI file; times in seconds, `bend` in cents from the key. */
export interface BentNote {
  readonly on: number;
  readonly off: number;
  readonly midi: number;
  readonly bend: number;
}

/** Ticks are milliseconds: 1000 a crotchet, a crotchet a second. */
const TICKS_A_CROTCHET = 1000;
/** FluidSynth 2.3.1 rounds pitch down to whole cents, so a bend aims half a cent above. */
const AIM_ABOVE_CENTS = 0.5;

interface MidiEvent {
  readonly tick: number;
  readonly bytes: readonly number[];
  /** Among events of one tick: a note ends before the bend changes and the next begins. */
  readonly order: number;
}

/**
 * Format-0 file on channel 1 with a pitch-bend range of two semitones, no reverberation and no chorus.
 *
 * Source: Standard MIDI Files 1.0 (RP-001, 1996); pitch bend and registered parameter 0: MIDI 1.0 (1996).
 */
export function bendMidi(program: number, notes: readonly BentNote[]): Buffer {
  const setUp = [
    [0xff, 0x51, 3, 0x0f, 0x42, 0x40],
    [0xc0, program],
    [0xb0, 101, 0],
    [0xb0, 100, 0],
    [0xb0, 6, 2],
    [0xb0, 38, 0],
    [0xb0, 7, 110],
    [0xb0, 91, 0],
    [0xb0, 93, 0],
  ];
  const events: MidiEvent[] = setUp.map((bytes) => ({ tick: 0, bytes, order: 0 }));
  for (const { on, off, midi, bend } of notes) {
    const wheel = Math.round(8192 + ((bend ? bend + AIM_ABOVE_CENTS : 0) / 200) * 8192);
    events.push(
      { tick: tickOf(on), bytes: [0xe0, wheel & 127, wheel >> 7], order: 1 },
      { tick: tickOf(on), bytes: [0x90, midi, 100], order: 2 },
      { tick: tickOf(off), bytes: [0x80, midi, 0], order: 0 },
    );
  }
  events.sort((a, b) => a.tick - b.tick || a.order - b.order);
  const track: number[] = [];
  let at = 0;
  for (const { tick, bytes } of events) {
    track.push(...variableLength(tick - at), ...bytes);
    at = tick;
  }
  track.push(...variableLength(500), 0xff, 0x2f, 0);
  const header = Buffer.alloc(22);
  header.write("MThd", 0);
  header.writeUInt32BE(6, 4);
  header.writeUInt16BE(0, 8);
  header.writeUInt16BE(1, 10);
  header.writeUInt16BE(TICKS_A_CROTCHET, 12);
  header.write("MTrk", 14);
  header.writeUInt32BE(track.length, 18);
  return Buffer.concat([header, Buffer.from(track)]);
}

const tickOf = (seconds: number) => Math.round(seconds * TICKS_A_CROTCHET);

function variableLength(value: number): number[] {
  const bytes = [value & 127];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 127) | 128);
  return bytes;
}
