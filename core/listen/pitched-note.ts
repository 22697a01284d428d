import { midiToHz } from "../pitch/equal-temperament.ts";
import { midi } from "../units.ts";
import type { FrameTrack } from "./frame-track.ts";
import type { UnreadableReason } from "./listening.ts";
import { harmonicReadAt } from "./lower-note.ts";
import type { FoundNote } from "./note-finder.ts";
import type { SampleHistory } from "./sample-history.ts";
import { settledMidi, settledPart } from "./settled-pitch.ts";

/** A pitch that rests on less is not given. */
const SHORTEST_SETTLED_SECONDS = 0.03;
/** C3 less a wide bend. */
const LOWEST_HZ = 115;

/** A found note with the pitch of its settled part. */
export interface PitchedNote {
  readonly found: FoundNote;
  /** Which harmonic of it its frames were read at: 1 for the note itself. */
  readonly readAt: number;
  /** Null where `unreadable` says why. Lower than the frames where those were read at a harmonic of it. */
  readonly midi: number | null;
  readonly spreadCents: number | null;
  /** Fractional; 0 where there is none. */
  readonly settledFrames: number;
  readonly levelDb: number;
  readonly unreadable: UnreadableReason | null;
}

/**
 * Reads the pitch of a note that has just ended.
 *
 * @param samples      the newest full-rate samples; of a note longer than they reach, the frames must do
 * @param frameSamples full-rate samples from one frame to the next
 */
export function pitchedNote(
  found: FoundNote,
  track: FrameTrack,
  samples: SampleHistory,
  frameSamples: number,
  sampleRateHz: number,
): PitchedNote {
  const heldFrom = Math.max(found.from, track.first);
  const levelDb = track.levelDb.at(Math.floor((heldFrom + found.offFrame) / 2));
  const nothing = { found, readAt: 1, midi: null, spreadCents: null, settledFrames: 0, levelDb };
  const part = settledPart(track, { ...found, from: heldFrom });
  if (part === null) return { ...nothing, unreadable: "no steady pitch" };
  const settledFrames = part.to - part.from;
  if (settledFrames * frameSamples < SHORTEST_SETTLED_SECONDS * sampleRateHz) {
    return { ...nothing, settledFrames, unreadable: "too short" };
  }
  const from = Math.round(part.from * frameSamples);
  const held = from >= samples.start;
  const settled = held ? samples.view(from, Math.round(part.to * frameSamples)) : null;
  const read = { spreadCents: part.spreadCents, settledFrames, levelDb, unreadable: null };
  if (settled === null) return { ...read, found, readAt: 1, midi: part.midi };
  const readAt = harmonicReadAt(settled, sampleRateHz, midiToHz(midi(part.midi)), LOWEST_HZ);
  const below = 12 * Math.log2(readAt);
  const own = { ...part, midi: part.midi - below, swingMidi: part.swingMidi - below };
  return {
    ...read,
    found: { ...found, midi: found.midi - below },
    readAt,
    midi: settledMidi(own, settled, sampleRateHz),
  };
}
