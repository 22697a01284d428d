import type { SevenMode } from "../pitch/modes.ts";
import { namer } from "../pitch/note-names.ts";
import { decodeText } from "./abc/decode-text.ts";
import { readAbc } from "./abc/read-abc.ts";
import { fifthsOfKey, keyOfFifths, spellingsOfKey } from "./key-signature.ts";
import { type GridReport, type MidiGrid, type MidiTrackInfo, readMidi } from "./read-midi.ts";
import { readMusicXml } from "./read-musicxml.ts";
import type { ReadTunes, Tune, TuneBook } from "./tune.ts";

export type TuneFileKind = "ABC" | "MusicXML" | "compressed MusicXML" | "MIDI";

/** What can be chosen of a file; what does not concern its kind is not looked at. */
export interface TuneChoices {
  /** MusicXML: id or name of the part; the first with notes if not given. */
  readonly part?: string;
  /** ABC and MusicXML: the voice; the first if not given. */
  readonly voice?: string;
  /** MIDI: place in the list of `midiTracks`; the one most like a melody if not given. */
  readonly track?: number;
  /** MIDI: the likeliest for each stretch if not given. */
  readonly grid?: MidiGrid;
  /** MIDI: crotchets before the first bar line, 0 to 16, for files that do not mark an upbeat; 0 if not given. */
  readonly upbeatCrotchets?: number;
  /** MIDI, whose signatures do not tell modes apart: the mode with the file's signature; major or minor if not given. */
  readonly mode?: SevenMode;
}

/** Tunes of a file of any kind. */
export type ReadTuneFile =
  | (TuneBook & {
      readonly file: TuneFileKind;
      /** Of a MIDI file alone: the track taken and what the grid did to it. */
      readonly midi: { readonly track: MidiTrackInfo; readonly quantised: GridReport } | null;
    })
  | { readonly kind: "unreadable"; readonly reason: string };

/** So much of a file is looked at to tell its kind. */
const LOOKED_AT = 1024;
const ZIP_MARKS = ["PK\u0003\u0004", "PK\u0005\u0006"];

/** The kind of a file, told by how it begins and never by its name; null where it is none that holds tunes. */
export function tuneFileKind(bytes: Uint8Array): TuneFileKind | null {
  const begins = letters(bytes, 0);
  // A MIDI file within RIFF has its own reason not to be read.
  if (begins === "MThd" || (begins === "RIFF" && letters(bytes, 8) === "RMID")) return "MIDI";
  // The marks of PKWARE APPNOTE 6.3, 4.3: text may begin with PK too.
  if (ZIP_MARKS.includes(begins)) return "compressed MusicXML";
  const text = decodeText(bytes.subarray(0, LOOKED_AT)).trimStart();
  if (/^<(\?xml|!DOCTYPE\s+score|!--|score-)/i.test(text)) return "MusicXML";
  // Text of any encoding, once decoded, has no such character.
  return text.includes("\u0000") ? null : "ABC";
}

const letters = (bytes: Uint8Array, at: number) => String.fromCharCode(...bytes.subarray(at, at + 4));

/**
 * Reads a file of tunes: ABC, MusicXML (.musicxml, .mxl) or MIDI, told apart by what is in it.
 *
 * @param bytes the whole file
 * @returns its tunes; or one line naming the kind of the file and the fault
 */
export function readTunes(bytes: Uint8Array, choices: TuneChoices = {}): ReadTuneFile {
  const file = tuneFileKind(bytes);
  if (file === null) {
    return { kind: "unreadable", reason: "this is neither ABC nor MusicXML nor MIDI" };
  }
  const read = ofKind(file, bytes, choices);
  if (read.kind === "unreadable") return { kind: "unreadable", reason: `${file}: ${read.reason}` };
  return { midi: null, ...read, file };
}

type Midi = NonNullable<Extract<ReadTuneFile, { kind: "tunes" }>["midi"]>;

function ofKind(
  file: TuneFileKind,
  bytes: Uint8Array,
  choices: TuneChoices,
): ReadTunes | (TuneBook & { readonly midi: Midi }) {
  const voice = choices.voice === undefined ? {} : { voice: choices.voice };
  switch (file) {
    case "ABC":
      return readAbc(decodeText(bytes), voice);
    case "MusicXML":
    case "compressed MusicXML":
      return readMusicXml(bytes, { ...voice, ...(choices.part === undefined ? {} : { part: choices.part }) });
    case "MIDI":
      return midiBook(bytes, choices);
  }
}

function midiBook(bytes: Uint8Array, choices: TuneChoices): ReadTunes | (TuneBook & { readonly midi: Midi }) {
  const { track, grid, upbeatCrotchets, mode } = choices;
  const read = readMidi(bytes, {
    ...(track === undefined ? {} : { track }),
    ...(grid === undefined ? {} : { grid }),
    ...(upbeatCrotchets === undefined ? {} : { upbeatCrotchets }),
  });
  if (read.kind === "unreadable") return read;
  const { quantised, track: taken, ...book } = read;
  const tunes = mode === undefined ? book.tunes : book.tunes.map((tune) => inMode(tune, mode));
  return { ...book, tunes, midi: { track: taken, quantised } };
}

/** The tune with the mode chosen for its signature, and its notes spelled so: G major becomes A dorian. */
export function inMode(tune: Tune, mode: SevenMode): Tune {
  const { tonic, mode: supposed } = tune.key;
  const fifths = supposed === null ? null : fifthsOfKey(tonic, supposed);
  if (fifths === null) return tune;
  const key = keyOfFifths(fifths, mode, true);
  const nameOf = namer(spellingsOfKey(key));
  const notes = tune.notes.map((note) => ({
    ...note,
    name: nameOf(note.midi),
    ornaments: note.ornaments.map((ornament) => ({
      ...ornament,
      notes: ornament.notes.map((one) => ({ ...one, name: nameOf(one.midi) })),
    })),
  }));
  return { ...tune, key, notes };
}
