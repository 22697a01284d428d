/**
 * What a file may ask for, reader by reader: everything a reader takes in is bound by a row of this table, and a file beyond one
 * is refused with that bound in the reason. Rows stand for the work a file makes, too: within them every reader answers in two
 * seconds (`npm run fuzz` holds it). What an instrument or a piece of music cannot be (holes, beats, hertz) is told by the rooms
 * that know it, not here.
 */
export interface Limit {
  /** The most that is read. */
  readonly most: number;
  /** What is counted, as the message has it. */
  readonly of: string;
}

const limit = (most: number, of: string): Limit => ({ most, of });

export const LIMITS = {
  /** That the window waits for a word of the worker that reads a file of tunes, whatever the limits below missed. */
  readingSeconds: limit(60, "seconds"),
  /** Of a file of tunes of any kind, before it is told which: each kind has a bound of its own. */
  tuneFileBytes: limit(100_000_000, "bytes"),
  /** Far above any tune book, below what a window can hold several times over. */
  abcCharacters: limit(50_000_000, "characters"),
  abcTunes: limit(100_000, "tunes"),
  /** Some 25,000 notes, read in about a second. */
  abcTuneCharacters: limit(100_000, "characters"),
  /** Repeats and parts played out: three hours of quavers at a reel's tempo. */
  tuneNotes: limit(50_000, "notes"),
  tuneBars: limit(20_000, "bars"),
  /** Brackets within brackets in an order of parts. */
  abcPartDepth: limit(16, "levels of brackets"),
  /** Parts of an order of parts, written out. */
  abcParts: limit(1000, "parts"),

  /** A tune of 64 bars has some 100 kB; with these limits the largest file takes about two seconds on a slow machine. */
  xmlBytes: limit(4_000_000, "bytes"),
  /** The score within a compressed file. */
  xmlUnpackedBytes: limit(4_000_000, "bytes unpacked"),
  /** Files within a compressed file: the score, what lists it, pictures. */
  zipEntries: limit(1000, "files"),
  /** Elements within elements; MusicXML itself needs about ten. */
  xmlDepth: limit(64, "levels of elements"),
  /** A tune of 64 bars has some 5,000. */
  xmlElements: limit(100_000, "elements"),

  /** An hour of a whole band has some 1 MB. */
  midiBytes: limit(8_000_000, "bytes"),
  midiTracks: limit(1000, "tracks"),
  /** Of all tracks together. */
  midiEvents: limit(1_000_000, "events"),
  /** Of the track that is read: an hour and a half of quavers at a reel's tempo. */
  midiTrackNotes: limit(20_000, "notes"),
  /** From the beginning to the last event: a day at 120 a minute. */
  midiCrotchets: limit(172_800, "crotchets"),

  /** An hour of 32-bit stereo at 48 kHz is 1.4 GB; a take for marking is minutes. */
  soundBytes: limit(1_000_000_000, "bytes"),
  /** In the window, which holds a recording twice. */
  soundWindowBytes: limit(200_000_000, "bytes"),
  /** A take is minutes, and an hour of notes is paired in minutes too. */
  soundMinutes: limit(60, "minutes"),
  /** More than any sound card a player owns. */
  soundChannels: limit(32, "channels"),

  /** Of a file of JSON: an exercise of as many notes as it may have has 8 MB. */
  jsonBytes: limit(20_000_000, "bytes"),
  /** Lists and objects within one another; a drill inside an attempt's advice needs about ten. */
  jsonDepth: limit(64, "levels of lists and objects"),
  /** Of a layout or a tuning, where it is opened in the window. */
  smallFileBytes: limit(1_000_000, "bytes"),
  nameCharacters: limit(80, "characters"),
  /** More notes than an hour of running quavers. */
  exerciseNotes: limit(20_000, "notes"),
  plantedFaults: limit(10_000, "faults"),
  /** More sets, or tunes in one, are no dance but a mistake. */
  listSets: limit(100, "sets"),
  listTunes: limit(100, "tunes"),
  pins: limit(20_000, "pins"),

  scalaCharacters: limit(100_000, "characters"),
  /** More steps to an octave no harmonica has. */
  scalaNotes: limit(128, "notes"),

  /** Lines of marks pack to a twentieth at most; gzip's own limit is one in a thousand, which only a trap comes near. */
  archiveUnpackedTimes: limit(250, "times its size"),
  /** An attempt with as many notes as an exercise may have takes about 30 million characters. */
  archiveLineCharacters: limit(64 * 1024 * 1024, "characters"),
  archiveHeaderCharacters: limit(1000, "characters"),
  archiveIdCharacters: limit(200, "characters"),
  /** [calc] An hour of 32-bit samples at 48 kHz: 3600 * 48000 * 4 bytes are 879 parts. */
  archiveTakeParts: limit(1024, "parts"),
} as const satisfies Readonly<Record<string, Limit>>;

export type LimitName = keyof typeof LIMITS;

/** A number with commas between thousands, so that a limit can be read. */
export function withCommas(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, ",");
}

/** Beyond a limit, in words: "4,000,001 bytes; at most 4,000,000 are read". */
export const beyond = (there: number, { most, of }: Limit): string =>
  `${withCommas(there)} ${of}; at most ${withCommas(most)} are read`;

/** Why a file is not opened at all, as the end of a sentence about it; null where nothing speaks against it. */
export const whyTooLarge = (bytes: number, limit: Limit): string | null =>
  bytes > limit.most ? `it has ${beyond(bytes, limit)}` : null;

/** The same where reading stops before all is counted: "more than 1,000 tracks, the most that is read". */
export const moreThan = ({ most, of }: Limit): string =>
  `more than ${withCommas(most)} ${of}, the most that is read`;
