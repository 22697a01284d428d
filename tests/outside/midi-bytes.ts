/** A note for a MIDI file written by hand, so that no code of ours stands between the written notes and their sound. */
export interface MidiNote {
  readonly onSeconds: number;
  readonly offSeconds: number;
  readonly key: number;
  /** 0..15, 0 where not said. Notes that ring together and are bent apart need channels of their own. */
  readonly channel?: number;
  /** Bent away from the key, -199..199; 0 where not said. */
  readonly bendCents?: number;
  /** Level of the channel, 1..127, from this note on; 127 where not said (see `expressionFor`). */
  readonly expression?: number;
}

/** Ticks are milliseconds: 1000 a crotchet at 60 crotchets a minute. [F] Standard MIDI Files 1.0. */
const TICKS_A_SECOND = 1000;
/** FluidSynth 2.3.1 rounds a pitch down to whole cents, so a bend aims half a cent above. */
const AIM_ABOVE_CENTS = 0.5;
/** The range of a bend where no file says otherwise: two semitones either way. [F] MIDI 1.0, general MIDI 1. */
const BEND_RANGE_CENTS = 200;
const FULL_EXPRESSION = 127;

/** Of one tick: a note ends before channels change and the next begins. */
type Event = { readonly tick: number; readonly order: 0 | 1 | 2; readonly bytes: readonly number[] };

/**
 * Format-0 MIDI file.
 *
 * @param program counted from 0: 22 is the harmonica of General MIDI
 */
export function midiBytes(program: number, notes: readonly MidiNote[]): Uint8Array {
  const channels = [...new Set([0, ...notes.map(({ channel = 0 }) => channel)])];
  const track = [0, 0xff, 0x51, 3, 0x0f, 0x42, 0x40];
  for (const channel of channels) track.push(0, 0xc0 + channel, program);
  const events = notes.flatMap(noteEvents).sort((a, b) => a.tick - b.tick || a.order - b.order);
  let tick = 0;
  for (const event of events) {
    track.push(...variableLength(event.tick - tick), ...event.bytes);
    tick = event.tick;
  }
  track.push(...variableLength(TICKS_A_SECOND / 2), 0xff, 0x2f, 0);
  const header = [...tag("MThd"), ...u32(6), 0, 0, 0, 1, TICKS_A_SECOND >> 8, TICKS_A_SECOND & 255];
  return Uint8Array.from([...header, ...tag("MTrk"), ...u32(track.length), ...track]);
}

/**
 * Expression that lowers a channel by so many decibels.
 *
 * @param levelDb -80..0; nearest step, within 0.2 dB down to -12 dB
 *
 * Source: recommended practice for General MIDI 2 and the SoundFont 2.04 default modulator: 40 log10(value / 127) dB.
 */
export function expressionFor(levelDb: number): number {
  return Math.max(1, Math.min(FULL_EXPRESSION, Math.round(FULL_EXPRESSION * 10 ** (levelDb / 40))));
}

function noteEvents(note: MidiNote): Event[] {
  const { key, channel = 0, bendCents = 0, expression = FULL_EXPRESSION } = note;
  const on = Math.round(note.onSeconds * TICKS_A_SECOND);
  const off = Math.round(note.offSeconds * TICKS_A_SECOND);
  const aimed = bendCents === 0 ? 0 : bendCents + AIM_ABOVE_CENTS;
  const wheel = Math.round(8192 + (8192 * aimed) / BEND_RANGE_CENTS);
  return [
    { tick: on, order: 1, bytes: [0xe0 + channel, wheel & 127, wheel >> 7] },
    { tick: on, order: 1, bytes: [0xb0 + channel, 11, expression] },
    { tick: on, order: 2, bytes: [0x90 + channel, key, 100] },
    { tick: off, order: 0, bytes: [0x80 + channel, key, 0] },
  ];
}

const tag = (name: string) => [...name].map((c) => c.charCodeAt(0));
const u32 = (value: number) => [value >>> 24, (value >> 16) & 255, (value >> 8) & 255, value & 255];

function variableLength(value: number): number[] {
  const bytes = [value & 127];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 127) | 128);
  return bytes;
}
