import type { MidiEvents } from "./read-events.ts";
import type { MidiNote } from "./track-builder.ts";

/** Notes of one channel of one track: what can be chosen. */
export interface MidiTrackInfo {
  /** Place in the list, from 0. */
  readonly index: number;
  /** "" where the track has none. */
  readonly name: string;
  /** 1 to 16; null where the track has no notes. */
  readonly channel: number | null;
  readonly noteCount: number;
  /** How much it is like a melody, 0 to 1. */
  readonly likeness: number;
}

export interface MidiTrackNotes extends MidiTrackInfo {
  readonly notes: readonly MidiNote[];
}

/** Channel 10 of General MIDI, counted from 0 here. */
const PERCUSSION = 9;
/** Pitches of a fiddle's or flute's tunes: G3 to E6. */
const MELODY_RANGE = { low: 55, high: 88 };

type Found = Pick<MidiTrackNotes, "name" | "channel" | "notes">;

/** Tracks of a file; a track that plays on several channels is one for each of them. */
export function trackList(events: MidiEvents): readonly MidiTrackNotes[] {
  const most = Math.max(1, ...events.tracks.map(({ notes }) => notes.length));
  const found = events.tracks.flatMap(({ name, notes }): readonly Found[] => {
    const channels = [...new Set(notes.map((note) => note.channel))].sort((one, other) => one - other);
    if (channels.length === 0) return [{ name, channel: null, notes: [] }];
    return channels.map((channel) => ({
      name,
      channel: channel + 1,
      notes: notes.filter((note) => note.channel === channel),
    }));
  });
  return found.map((track, index) => ({
    ...track,
    index,
    noteCount: track.notes.length,
    likeness: likeness(track.notes, most),
  }));
}

/**
 * One note at a time, within the range of a tune, and not much fewer notes than the busiest track [P]. Percussion is none.
 */
function likeness(notes: readonly MidiNote[], most: number): number {
  if (notes.length === 0 || notes[0]?.channel === PERCUSSION) return 0;
  let sounding = Number.NEGATIVE_INFINITY;
  let alone = 0;
  let inRange = 0;
  for (const { at, end, pitch } of notes) {
    // Players hold a note a little into the next.
    if (at >= sounding - (end - at) / 4) alone++;
    if (pitch >= MELODY_RANGE.low && pitch <= MELODY_RANGE.high) inRange++;
    sounding = Math.max(sounding, end);
  }
  const single = alone / notes.length;
  return single * single * (inRange / notes.length) * Math.sqrt(notes.length / most);
}

/** The track most like a melody; of equals the first. Null where there are no notes. */
export function melodyTrack(tracks: readonly MidiTrackNotes[]): MidiTrackNotes | null {
  const withNotes = tracks.filter(({ noteCount }) => noteCount > 0);
  const [first] = withNotes;
  if (first === undefined) return null;
  return withNotes.reduce((best, next) => (next.likeness > best.likeness ? next : best), first);
}
