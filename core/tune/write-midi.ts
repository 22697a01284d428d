import { fifthsOfSignature } from "./key-signature.ts";
import { MidiTrack, midiFile } from "./midi/midi-bytes.ts";
import { semibreves, type Tempo } from "./tempo.ts";
import { TICKS_PER_SEMIBREVE, type Tune, type TuneBar, type TuneKey } from "./tune.ts";
import { isCompound } from "./written-bar.ts";

/** Harmonica in General MIDI, counted from 0. */
const HARMONICA = 22;
const TICKS_PER_CROTCHET = TICKS_PER_SEMIBREVE / 4;
/** What the header has room for is 32,767; programs expect some hundreds. */
const FINEST_DIVISION = 32_767;
const USUAL_DIVISION = 480;

export interface MidiOptions {
  /** 0: one track; 1: tempo, signatures and key in a track of their own (default). */
  readonly format?: 0 | 1;
  /** General MIDI program, 0 to 127; 22, harmonica, if not given. */
  readonly program?: number;
  /** 1 to 127; 88 if not given. */
  readonly velocity?: number;
}

/**
 * Writes a tune as a Standard MIDI File, repeats played out, chords sounded, ornaments and chord symbols left out. Bars that
 * are no whole ones get a time signature of their length, so that bar lines stay where they are. The key has only its
 * signature, and "minor" where it is.
 *
 * @returns the file
 * @throws RangeError if program or velocity are beyond what MIDI has
 *
 * Source: Standard MIDI Files 1.0 (MIDI Manufacturers Association, RP-001).
 */
export function writeMidi(tune: Tune, options: MidiOptions = {}): Uint8Array {
  const { format = 1, program = HARMONICA, velocity = 88 } = options;
  within("program", program, 0, 127);
  within("velocity", velocity, 1, 127);
  const division = divisionFor(tune);
  const toTicks = (ticks: number) => Math.round((ticks * division) / TICKS_PER_CROTCHET);
  const conductor = new MidiTrack();
  conductor.text(0, "name", tune.title);
  for (const field of tune.fields.filter((one) => one.kind === "copyright")) {
    conductor.text(0, "copyright", field.text);
  }
  conductor.meta(0, 0x51, threeBytes(microsecondsPerCrotchet(tune.tempo)));
  conductor.meta(0, 0x59, keyBytes(tune.key));
  for (const { at, bytes } of timeSignatures(tune.bars)) conductor.meta(toTicks(at), 0x58, bytes);
  const melody = format === 0 ? conductor : new MidiTrack();
  if (format === 1) melody.text(0, "name", tune.title);
  melody.event(0, [0xc0, program]);
  for (const note of tune.notes) {
    const end = toTicks(note.startTicks + note.lengthTicks);
    for (const pitch of new Set([...(note.chord ?? []), note.midi])) {
      within(`the pitch of note ${note.index}`, pitch, 0, 127);
      melody.event(toTicks(note.startTicks), [0x90, pitch, velocity]);
      melody.event(end, [0x80, pitch, 0]);
    }
  }
  const last = tune.bars.at(-1);
  const end = last === undefined ? 0 : toTicks(last.startTicks + last.lengthTicks);
  const tracks = format === 0 ? [conductor] : [conductor, melody];
  return midiFile(
    format,
    division,
    tracks.map((track) => track.bytes(end)),
  );
}

function within(what: string, value: number, least: number, most: number): void {
  if (!Number.isInteger(value) || value < least || value > most) {
    throw new RangeError(`${what} is ${value}; MIDI has ${least} to ${most}`);
  }
}

/** Divisions of a crotchet in which every onset and end is whole, where the format has room for them. */
function divisionFor(tune: Tune): number {
  const times = [...tune.notes, ...tune.bars].flatMap((one) => [one.startTicks, one.lengthTicks]);
  const common = times.reduce<number>(greatestCommonDivisor, TICKS_PER_CROTCHET);
  let division = TICKS_PER_CROTCHET / common;
  while (division < USUAL_DIVISION) division *= 2;
  return division <= FINEST_DIVISION ? division : TICKS_PER_CROTCHET / 2;
}

function greatestCommonDivisor(one: number, other: number): number {
  return other === 0 ? one : greatestCommonDivisor(other, one % other);
}

/** [calc] 60 s hold `bpm` note values, each of so many crotchets. */
function microsecondsPerCrotchet({ bpm, noteValue }: Tempo): number {
  return Math.round(60e6 / (bpm * 4 * semibreves(noteValue)));
}

const threeBytes = (value: number) => [(value >> 16) & 0xff, (value >> 8) & 0xff, value & 0xff];

function keyBytes(key: TuneKey): number[] {
  const fifths = fifthsOfSignature(key.signature) ?? 0;
  return [fifths & 0xff, key.mode === "minor" ? 1 : 0];
}

function timeSignatures(bars: readonly TuneBar[]) {
  let before = "";
  return bars.flatMap((bar) => {
    const bytes = signatureBytes(bar);
    const changed = bytes !== null && bytes.join() !== before;
    if (bytes !== null) before = bytes.join();
    return changed ? [{ at: bar.startTicks, bytes }] : [];
  });
}

/** Numerator, denominator as a power of two, MIDI clocks (24 a crotchet) in a beat, 32nds in a crotchet. */
function signatureBytes(bar: TuneBar): number[] | null {
  const { metre } = bar;
  if (metre === null) return null;
  const clocks = isCompound(metre) ? 36 : Math.max(1, 96 / metre.unit);
  for (let unit = metre.unit; unit <= 512; unit *= 2) {
    const beats = (bar.lengthTicks * unit) / TICKS_PER_SEMIBREVE;
    if (Number.isInteger(beats) && beats >= 1 && beats <= 255) return [beats, Math.log2(unit), clocks, 8];
  }
  return null;
}
