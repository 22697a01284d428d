import { SEVEN_MODES, type SevenMode } from "../../core/pitch/modes.ts";
import { type MidiTrackInfo, midiTracks } from "../../core/tune/read-midi.ts";
import { inMode, readTunes, type TuneChoices } from "../../core/tune/read-tunes.ts";
import { keyInWords } from "../../core/tune/tune-list.ts";
import { writeAbc } from "../../core/tune/write-abc.ts";

/** What a MIDI file would become, read with some choices. */
export interface MidiPreview {
  /** Those with notes. */
  readonly tracks: readonly MidiTrackInfo[];
  /** The one read: its place in the file's list. */
  readonly track: number;
  /** "1/16", or where triplets came "1/16, 1/12 for 3 notes". */
  readonly grid: string;
  readonly largestShiftMs: number;
  readonly notes: number;
  readonly mode: SevenMode;
  /** Each mode with the key it would be: "A dorian". */
  readonly keys: readonly (readonly [mode: SevenMode, key: string])[];
  readonly abc: string;
}

export type ReadMidiPreview =
  | { readonly kind: "preview"; readonly preview: MidiPreview }
  | { readonly kind: "unreadable"; readonly reason: string };

export function midiPreview(bytes: Uint8Array, choices: TuneChoices): ReadMidiPreview {
  const listed = midiTracks(bytes);
  const read = readTunes(bytes, choices);
  if (read.kind === "unreadable") return read;
  if (listed.kind === "unreadable") return listed;
  const [tune] = read.tunes;
  if (tune === undefined || read.midi === null)
    return { kind: "unreadable", reason: "there is no tune in it" };
  const { track, quantised } = read.midi;
  return {
    kind: "preview",
    preview: {
      tracks: listed.tracks.filter(({ noteCount }) => noteCount > 0),
      track: track.index,
      grid: quantised.grid,
      largestShiftMs: quantised.largestShift,
      notes: tune.notes.length,
      mode: tune.key.mode ?? "major",
      keys: SEVEN_MODES.map((mode) => [mode, keyInWords(inMode(tune, mode).key)]),
      abc: writeAbc(tune),
    },
  };
}
