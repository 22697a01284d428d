import { namer } from "../pitch/note-names.ts";
import { beyond, LIMITS, moreThan, withCommas } from "../reading/limits.ts";
import { quoted } from "../reading/quoting.ts";
import { type Milliseconds, midi, milliseconds } from "../units.ts";
import { danceOfMetre } from "./abc/rhythm-field.ts";
import { tempoOf } from "./abc/tempo-field.ts";
import { ANY_TEMPO, USUAL_TEMPI } from "./dances.ts";
import { keyOfFifths, modeEndingOn, spellingsOfKey } from "./key-signature.ts";
import { foldAlike } from "./midi/alike-bars.ts";
import { type MidiBar, midiBars, tuneTicks } from "./midi/bars.ts";
import { type MidiTrackInfo, type MidiTrackNotes, melodyTrack, trackList } from "./midi/choose-track.ts";
import { gridLine, type LineNote } from "./midi/grid-line.ts";
import { guessKey } from "./midi/guess-key.ts";
import { MIDI_GRIDS, type MidiGrid, type Quantised, quantise } from "./midi/quantise.ts";
import { type MidiEvents, readMidiEvents } from "./midi/read-events.ts";
import { type PlayedOut, playOut } from "./play-out.ts";
import { type Metre, TICKS_PER_SEMIBREVE, type Tune, type TuneBook, type TuneKey } from "./tune.ts";
import { TuneFault } from "./tune-fault.ts";
import type { WrittenBar } from "./written-bar.ts";

export type { MidiTrackInfo } from "./midi/choose-track.ts";
export { MIDI_GRIDS, type MidiGrid } from "./midi/quantise.ts";

export interface MidiChoices {
  /** Place in the list of `midiTracks`; the one most like a melody if not given. */
  readonly track?: number;
  /** All is laid on it; if not given each stretch has the likeliest of 1/16, 1/12, 1/24 and 1/32. */
  readonly grid?: MidiGrid;
  /** Crotchets before the first bar line, for files that do not mark an upbeat; 0 if not given. */
  readonly upbeatCrotchets?: number;
}

/** What laying the notes on a grid did to them. */
export interface GridReport {
  /** "1/16", or where triplets came "1/16, 1/12 for 3 notes". */
  readonly grid: string;
  /** Of each note of the tune, in order: positive where it is written later than it was played. */
  readonly shifts: readonly Milliseconds[];
  /** The greatest, whichever way. */
  readonly largestShift: Milliseconds;
}

export type ReadMidi =
  | (TuneBook & { readonly quantised: GridReport; readonly track: MidiTrackInfo })
  | { readonly kind: "unreadable"; readonly reason: string };

export type MidiTracks =
  | { readonly kind: "tracks"; readonly tracks: readonly MidiTrackInfo[] }
  | { readonly kind: "unreadable"; readonly reason: string };

const CROTCHET = TICKS_PER_SEMIBREVE / 4;
const COMMON: Metre = { beats: 4, unit: 4 };
const MOST_UPBEAT_CROTCHETS = 16;

/** Tracks of a Standard MIDI File to choose from; a track on several channels is one for each. */
export function midiTracks(bytes: Uint8Array): MidiTracks {
  return orReason(() => ({
    kind: "tracks",
    tracks: trackList(readMidiEvents(bytes)).map(({ notes: _, ...info }) => info),
  }));
}

/**
 * Reads one track of a Standard MIDI File (format 0 or 1) as a tune. What the format does not have is supposed and never sure:
 * names of notes, the mode of the key; and notes are laid on a grid, as `quantised` tells.
 *
 * @param bytes the whole file
 * @returns the tune; or one line naming the fault
 * @throws RangeError if the upbeat is not 0 to 16 crotchets
 *
 * Source: Standard MIDI Files 1.0 (MIDI Manufacturers Association, RP-001).
 */
export function readMidi(bytes: Uint8Array, choices: MidiChoices = {}): ReadMidi {
  const upbeat = choices.upbeatCrotchets ?? 0;
  if (!(upbeat >= 0 && upbeat <= MOST_UPBEAT_CROTCHETS)) {
    throw new RangeError(`an upbeat of ${upbeat} crotchets; 0 to ${MOST_UPBEAT_CROTCHETS} are possible`);
  }
  return orReason(() => {
    const events = readMidiEvents(bytes);
    return tuneOf(events, chosenTrack(trackList(events), choices.track), choices);
  });
}

function orReason<T>(read: () => T): T | { readonly kind: "unreadable"; readonly reason: string } {
  try {
    return read();
  } catch (error) {
    if (error instanceof TuneFault) return { kind: "unreadable", reason: error.message };
    throw error;
  }
}

function chosenTrack(tracks: readonly MidiTrackNotes[], wanted: number | undefined): MidiTrackNotes {
  const track = wanted === undefined ? melodyTrack(tracks) : tracks[wanted];
  if (track === null) throw new TuneFault("the file has no notes");
  if (track === undefined)
    throw new TuneFault(`there is no track ${wanted}; there are 0 to ${tracks.length - 1}`);
  if (track.noteCount === 0) throw new TuneFault(`track ${track.index} has no notes`);
  if (track.noteCount > LIMITS.midiTrackNotes.most) {
    throw new TuneFault(`the track has ${beyond(track.noteCount, LIMITS.midiTrackNotes)}`);
  }
  return track;
}

function tuneOf(events: MidiEvents, track: MidiTrackNotes, choices: MidiChoices): ReadMidi {
  const { ticksPerCrotchet } = events;
  const secondsOf = crotchetSeconds(events);
  const laid = quantise(track.notes, ticksPerCrotchet, secondsOf, choices.grid ?? null);
  const line = gridLine(laid.notes);
  const changes = events.tracks
    .flatMap(({ metres }) => metres)
    .map(({ at, beats, unit }) => ({ at: tuneTicks(at, ticksPerCrotchet), metre: { beats, unit } }));
  const last = line.notes.at(-1);
  const end = last === undefined ? 0 : last.startTicks + last.lengthTicks;
  const bars = midiBars(changes, end, Math.round((choices.upbeatCrotchets ?? 0) * CROTCHET));
  const { key, remark } = keyOf(events, line.notes);
  const written = writtenBars(bars, line.notes, namer(spellingsOfKey(key)));
  const { bars: playedBars, notes } = folded(written, line.notes);
  const metre = (written.find((bar) => bar.notes.length > 0) ?? written[0])?.metre ?? COMMON;
  const dance = danceOfMetre(metre);
  const report = gridReport(laid, line.notes, secondsOf);
  const words = [
    remark,
    ...(changes.length === 0 ? ["the file has no time signature: 4/4 is taken"] : []),
    `the notes are laid on a grid of ${report.grid}, by at most ${report.largestShift} ms`,
    ...line.remarks,
    ...trackRemarks(events, track),
  ];
  const tempo = tempoFor(events, metre);
  const copyrights = events.tracks.flatMap((one) => one.copyrights);
  const tune: Tune = {
    number: 1,
    title: titleOf(events, track),
    otherTitles: [],
    fields: copyrights.map((text) => ({ kind: "copyright", text })),
    dance,
    rhythm: null,
    metre,
    key,
    tempo: tempo ?? (dance === null ? ANY_TEMPO : USUAL_TEMPI[dance]),
    tempoFrom: tempo !== null ? "tune" : dance === null ? "neither" : "dance",
    bars: playedBars,
    notes,
    chords: [],
    remarks: words.map((one) => ({ place: null, words: one })),
  };
  const { notes: _, ...info } = track;
  return { kind: "tunes", tunes: [tune], bad: [], remarks: [], quantised: report, track: info };
}

/** With repeat signs where strains come again, if that plays exactly the same notes. */
function folded(written: readonly WrittenBar[], notes: readonly LineNote[]): PlayedOut {
  const once = played(foldAlike(written));
  const first = notes[0]?.startTicks ?? 0;
  const from = once.notes[0]?.startTicks ?? 0;
  const same =
    once.notes.length === notes.length &&
    once.notes.every((note, at) => {
      const other = notes[at];
      return other?.pitch === note.midi && other.startTicks - first === note.startTicks - from;
    });
  return same ? once : played(written);
}

function played(bars: readonly WrittenBar[]): PlayedOut {
  const out = playOut(
    { bars, partOrder: null },
    { bars: LIMITS.tuneBars.most, notes: LIMITS.midiTrackNotes.most },
  );
  if (out.kind === "too long")
    throw new TuneFault(
      `the track has ${moreThan(out.what === "bars" ? LIMITS.tuneBars : LIMITS.midiTrackNotes)}`,
    );
  return out;
}

/** Length of the crotchet at a place counted in crotchets; without a tempo the standard's half second. */
function crotchetSeconds({ tracks, ticksPerCrotchet }: MidiEvents): (crotchet: number) => number {
  const tempos = tracks.flatMap((one) => one.tempos).sort((one, other) => one.at - other.at);
  return (crotchet) => {
    const at = crotchet * ticksPerCrotchet;
    let low = 0;
    let high = tempos.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((tempos[middle]?.at ?? 0) <= at) low = middle + 1;
      else high = middle;
    }
    return (tempos[low - 1]?.microsecondsPerCrotchet ?? 500_000) / 1e6;
  };
}

/** The signature is the file's where it has one; its mode is only major or minor, so it is to be asked. */
function keyOf(
  events: MidiEvents,
  notes: readonly LineNote[],
): { readonly key: TuneKey; readonly remark: string } {
  const pitched = notes.map((note) => ({ midi: midi(note.pitch), lengthTicks: note.lengthTicks }));
  const [said] = events.tracks.flatMap((one) => one.keys).sort((one, other) => one.at - other.at);
  if (said === undefined) {
    const key = guessKey(pitched);
    return { key, remark: `the file has no key: ${key.tonic} ${key.mode} is guessed from the notes` };
  }
  const key = keyOfFifths(said.fifths, said.minor ? "minor" : "major", false);
  const last = pitched.at(-1);
  const ending = last === undefined ? null : modeEndingOn(said.fifths, last.midi);
  const named = `${key.tonic} ${key.mode}`;
  if (ending === null || ending === key.mode)
    return { key, remark: `the key is ${named}: a MIDI file knows no other modes` };
  const other = keyOfFifths(said.fifths, ending, false);
  return { key, remark: `the key is ${named} by the file; it ends as ${other.tonic} ${other.mode} would` };
}

function writtenBars(
  bars: readonly MidiBar[],
  notes: readonly LineNote[],
  nameOf: ReturnType<typeof namer>,
): readonly WrittenBar[] {
  const firstWithNotes = bars.findIndex((bar) => (notes[0]?.startTicks ?? 0) < bar.start + bar.length);
  let next = 0;
  return bars.slice(Math.max(0, firstWithNotes)).map((bar) => {
    const from = next;
    while (next < notes.length && (notes[next]?.startTicks ?? 0) < bar.start + bar.length) next++;
    const own = notes.slice(from, next).map((note) => ({
      atTicks: note.startTicks - bar.start,
      lengthTicks: note.lengthTicks,
      midi: midi(note.pitch),
      name: nameOf(midi(note.pitch)),
      tiedOn: false,
      place: null,
      ornaments:
        note.graces.length === 0
          ? []
          : [
              {
                kind: "grace",
                notes: note.graces.map((one) => ({ midi: midi(one), name: nameOf(midi(one)) })),
              },
            ],
      chord: note.chord.map(midi),
    }));
    return { ...PLAIN_BAR, notes: own, lengthTicks: bar.length, metre: bar.metre, doubleBar: bar.ends };
  });
}

const PLAIN_BAR = {
  chords: [],
  closed: true,
  part: null,
  repeatFrom: 0,
  repeatTo: 0,
  ending: null,
  segno: false,
  coda: false,
  toCoda: false,
  fine: false,
  jump: null,
} as const satisfies Partial<WrittenBar>;

function gridReport(
  laid: Quantised,
  notes: readonly LineNote[],
  secondsOf: (crotchet: number) => number,
): GridReport {
  const shifts = notes.map(({ shift, startTicks }) =>
    milliseconds(Math.round(shift * secondsOf(startTicks / CROTCHET) * 10_000) / 10),
  );
  const largest = shifts.reduce<number>((most, one) => Math.max(most, Math.abs(one)), 0);
  const [common, ...rarer] = laid.grids;
  const grid = [common?.grid ?? MIDI_GRIDS[0], ...rarer.map((one) => `${one.grid} for ${one.notes} notes`)];
  return { grid: grid.join(", "), shifts, largestShift: milliseconds(largest) };
}

function trackRemarks(events: MidiEvents, track: MidiTrackNotes): readonly string[] {
  const all = trackList(events).filter(({ noteCount }) => noteCount > 0);
  const unended = events.tracks.reduce((sum, one) => sum + one.unended, 0);
  const tempos = new Set(
    events.tracks.flatMap((one) => one.tempos.map((tempo) => tempo.microsecondsPerCrotchet)),
  );
  return [
    ...(all.length > 1 ? [`of ${all.length} tracks with notes only ${calledTrack(track)} is read`] : []),
    ...(tempos.size > 1 ? ["the tempo changes: the first is the tune's"] : []),
    ...(unended > 0
      ? [`${withCommas(unended)} notes never end in the file: they are held to the end of their track`]
      : []),
  ];
}

const calledTrack = ({ name, index }: MidiTrackInfo) => (name === "" ? `track ${index}` : quoted(name));

/** The file's name stands in its first track (format 1) or only one; else the track's own. */
function titleOf(events: MidiEvents, track: MidiTrackNotes): string {
  return events.tracks[0]?.name || track.name || "Tune 1";
}

function tempoFor(events: MidiEvents, metre: Metre): Tune["tempo"] | null {
  const [first] = events.tracks.flatMap((one) => one.tempos).sort((one, other) => one.at - other.at);
  if (first === undefined) return null;
  // Counted in semibreves, which are nobody's beat: crotchets are only how the file counts.
  const field = { beat: 1, units: 1, perMinute: 60e6 / first.microsecondsPerCrotchet / 4 };
  return tempoOf(field, 1 / 8, metre).tempo;
}
