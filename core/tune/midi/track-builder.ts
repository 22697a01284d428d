import { withCommas } from "../../reading/limits.ts";
import { decodeText } from "../abc/decode-text.ts";
import { MOST_BEATS } from "../abc/limits.ts";
import { TuneFault } from "../tune-fault.ts";

/** A note as played; times in the file's own ticks. */
export interface MidiNote {
  readonly at: number;
  readonly end: number;
  readonly pitch: number;
  /** 0 to 15; 9 is percussion in General MIDI. */
  readonly channel: number;
}

/** What a track says that concerns a tune. */
export interface MidiTrackEvents {
  readonly name: string;
  readonly notes: readonly MidiNote[];
  /** Notes that never end in the file: they end with the track. */
  readonly unended: number;
  readonly tempos: readonly { readonly at: number; readonly microsecondsPerCrotchet: number }[];
  readonly metres: readonly { readonly at: number; readonly beats: number; readonly unit: number }[];
  readonly keys: readonly { readonly at: number; readonly fifths: number; readonly minor: boolean }[];
  readonly copyrights: readonly string[];
  /** Of its last event. */
  readonly end: number;
}

/** A track, event by event. */
export class TrackBuilder {
  #name = "";
  readonly #notes: MidiNote[] = [];
  /** Onsets of sounding notes by channel and pitch. */
  readonly #open = new Map<number, number>();
  readonly #tempos: { at: number; microsecondsPerCrotchet: number }[] = [];
  readonly #metres: { at: number; beats: number; unit: number }[] = [];
  readonly #keys: { at: number; fifths: number; minor: boolean }[] = [];
  readonly #copyrights: string[] = [];

  noteOn(at: number, channel: number, pitch: number): void {
    // Struck again before it ended: the first ends here.
    this.noteOff(at, channel, pitch);
    this.#open.set(channel * 128 + pitch, at);
  }

  noteOff(at: number, channel: number, pitch: number): void {
    const onset = this.#open.get(channel * 128 + pitch);
    if (onset === undefined) return;
    this.#open.delete(channel * 128 + pitch);
    if (at > onset) this.#notes.push({ at: onset, end: at, pitch, channel });
  }

  /** @param place byte after the event */
  meta(at: number, type: number, data: Uint8Array, place: number): void {
    const [first = 0, second = 0, third = 0] = data;
    const expected = { 81: 3, 88: 4, 89: 2 }[type];
    if (expected !== undefined && data.length < expected) {
      throw new TuneFault(
        `broken before byte ${withCommas(place)}: a ${META_NAMES[type]} of ${data.length} bytes; it has ${expected}`,
      );
    }
    if (type === 0x03 && this.#name === "") this.#name = lineOf(data);
    if (type === 0x02) this.#copyrights.push(lineOf(data));
    if (type === 0x51) {
      const microsecondsPerCrotchet = (first << 16) | (second << 8) | third;
      if (microsecondsPerCrotchet > 0) this.#tempos.push({ at, microsecondsPerCrotchet });
    }
    if (type === 0x58 && first > 0 && first <= MOST_BEATS && second <= 6)
      this.#metres.push({ at, beats: first, unit: 2 ** second });
    const fifths = first > 127 ? first - 256 : first;
    if (type === 0x59 && Math.abs(fifths) <= 7) this.#keys.push({ at, fifths, minor: second === 1 });
  }

  ended(end: number): MidiTrackEvents {
    const unended = this.#open.size;
    for (const key of [...this.#open.keys()]) this.noteOff(end, Math.floor(key / 128), key % 128);
    return {
      name: this.#name,
      notes: this.#notes.toSorted((one, other) => one.at - other.at || one.pitch - other.pitch),
      unended,
      tempos: this.#tempos,
      metres: this.#metres,
      keys: this.#keys,
      copyrights: this.#copyrights.filter((text) => text !== ""),
      end,
    };
  }
}

const META_NAMES: Readonly<Record<number, string>> = {
  81: "tempo",
  88: "time signature",
  89: "key signature",
};

/** Text on one line: old files end theirs with zero bytes. */
const lineOf = (data: Uint8Array) =>
  decodeText(data)
    .replace(/[\s\p{Cc}]+/gu, " ")
    .trim();
