import { beyond, LIMITS, moreThan, withCommas } from "../../reading/limits.ts";
import { decodeText } from "../abc/decode-text.ts";
import { TuneFault } from "../tune-fault.ts";
import { ByteReader } from "./byte-reader.ts";
import { type MidiTrackEvents, TrackBuilder } from "./track-builder.ts";

export interface MidiEvents {
  readonly format: 0 | 1;
  readonly ticksPerCrotchet: number;
  readonly tracks: readonly MidiTrackEvents[];
}

/**
 * Reads a Standard MIDI File of format 0 or 1, whole or not at all. Chunks of other kinds are skipped, as the standard asks.
 *
 * @throws TuneFault with the byte, counted from 0, where it is cut off, broken or beyond the limits
 *
 * Source: Standard MIDI Files 1.0 (MIDI Manufacturers Association, RP-001).
 */
export function readMidiEvents(bytes: Uint8Array): MidiEvents {
  if (bytes.length === 0) throw new TuneFault("an empty file");
  if (bytes.length > LIMITS.midiBytes.most) {
    throw new TuneFault(`the file has ${beyond(bytes.length, LIMITS.midiBytes)}`);
  }
  const input = new ByteReader(bytes, 0, bytes.length);
  const { format, trackCount, ticksPerCrotchet } = readHeader(input);
  const budget = { events: 0, latest: LIMITS.midiCrotchets.most * ticksPerCrotchet };
  const tracks: MidiTrackEvents[] = [];
  while (tracks.length < trackCount && input.left > 0) {
    const { id, body } = readChunk(input);
    if (id === "MTrk") tracks.push(readTrack(body, budget));
  }
  if (tracks.length < trackCount) {
    throw new TuneFault(`cut off: the header says ${trackCount} tracks, the file has ${tracks.length}`);
  }
  return { format, ticksPerCrotchet, tracks };
}

function readChunk(input: ByteReader): { readonly id: string; readonly body: ByteReader } {
  const id = decodeText(input.take(4));
  return { id, body: input.part(input.number(4)) };
}

function readHeader(input: ByteReader) {
  const start = decodeText(input.take(Math.min(4, input.left)));
  if (start === "RIFF") throw new TuneFault("a MIDI file within RIFF (.rmi) is not read; save it as .mid");
  if (start !== "MThd") throw new TuneFault("not a MIDI file: it does not begin with MThd");
  const body = input.part(input.number(4));
  const format = body.number(2);
  if (format !== 0 && format !== 1) {
    throw new TuneFault(`MIDI files of format ${format} are not read, only 0 and 1`);
  }
  const trackCount = body.number(2);
  if (trackCount > LIMITS.midiTracks.most) {
    throw new TuneFault(beyond(trackCount, LIMITS.midiTracks));
  }
  const ticksPerCrotchet = body.number(2);
  if (ticksPerCrotchet >= 0x8000) {
    throw new TuneFault("time is counted in film frames, not in crotchets: there are no bars to read");
  }
  if (ticksPerCrotchet === 0) throw new TuneFault("broken: the header says 0 ticks to the crotchet");
  return { format: format as 0 | 1, trackCount, ticksPerCrotchet };
}

interface Budget {
  events: number;
  readonly latest: number;
}

function readTrack(input: ByteReader, budget: Budget): MidiTrackEvents {
  const track = new TrackBuilder();
  let now = 0;
  let running = 0;
  while (input.left > 0) {
    now += input.variable();
    if (++budget.events > LIMITS.midiEvents.most) {
      throw new TuneFault(moreThan(LIMITS.midiEvents));
    }
    if (now > budget.latest) {
      throw new TuneFault(moreThan(LIMITS.midiCrotchets));
    }
    const status = input.peek() >= 0x80 ? input.byte() : running;
    if (status === 0) {
      throw new TuneFault(`broken at byte ${withCommas(input.at)}: data without an event they belong to`);
    }
    if (status < 0xf0) {
      running = status;
      channelEvent(input, status, now, track);
    } else {
      // Events without a channel cancel the running status by the standard; files that go on with it mean the one before.
      if (status === 0xff) {
        const type = input.byte();
        if (type === 0x2f) break;
        track.meta(now, type, input.take(input.variable()), input.at);
      } else if (status === 0xf0 || status === 0xf7) input.take(input.variable());
      else
        throw new TuneFault(
          `broken at byte ${withCommas(input.at - 1)}: ${status} begins no event of a file`,
        );
    }
  }
  return track.ended(now);
}

function channelEvent(input: ByteReader, status: number, now: number, track: TrackBuilder): void {
  const channel = status & 0x0f;
  const first = input.data();
  const kind = status & 0xf0;
  // Program changes and channel pressure have one data byte.
  const second = kind === 0xc0 || kind === 0xd0 ? 0 : input.data();
  if (kind === 0x90 && second > 0) track.noteOn(now, channel, first);
  else if (kind === 0x90 || kind === 0x80) track.noteOff(now, channel, first);
}
