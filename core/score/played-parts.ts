import type { HeardNote } from "../listen/listening.ts";
import { EXTRA, GOING_ON, ORNAMENT, type Played, UNREAD_EXTRA } from "./align-costs.ts";

/** What a heard note can be besides the answer to a written one. */
export type Part =
  | { readonly kind: "note" }
  /** Too short to be a note, and beside one: a cut, a tap, a grace note. */
  | { readonly kind: "ornament" }
  /** The note it interrupted, going on after an ornament. */
  | { readonly kind: "going on"; readonly from: number }
  /** A note that has ended and is heard once more, or a harmonic of it, softer: the room rings on. */
  | { readonly kind: "ringing on" }
  /** The same, so faint that nobody has played it: never an answer. */
  | { readonly kind: "echo" }
  /** A click, a knock, or the beat from the loudspeaker. */
  | { readonly kind: "click" };

/** Cuts and taps last 25 to 60 ms (fact sheet, section 6 [M]); the end of one is heard up to 10 ms late. */
const LONGEST_ORNAMENT_SECONDS = 0.075;
/** More of the note it decorates than this, and it is a note of its own. */
const MOST_OF_ITS_NOTE = 0.38;
/** Notes played in one go follow one another within this. */
const TOUCHING_SECONDS = 0.04;
/** A held tone that breaks off for longer is a new one. */
const LONGEST_BREAK_SECONDS = 0.3;
/** A shorter sound without a pitch is no note. */
const LEAST_UNREADABLE_SECONDS = 0.06;
/** A room still rings with a note this long after its end, softer by at least so much. Both [P]. */
const RINGING_SECONDS = 0.5;
const RINGING_DB = 8;
/** [P] No tune asks for a note this much softer than the one just before. */
const ECHO_DB = 20;
/** Of a note that rings on, a harmonic may outlast the rest. */
const RINGING_HARMONICS = 5;
/** Two sounds this near in pitch are one reed. */
export const SAME_REED_SEMITONES = 0.6;

/**
 * What each heard note can be, judged by what was heard alone.
 *
 * @param holding true where the player holds single notes: a tone broken off and taken up again is one tone
 */
export function partsOf(heard: readonly HeardNote[], holding = false): readonly Part[] {
  const spans = noteSpans(heard, holding);
  return heard.map((note, place): Part => {
    const from = spans[place]?.from ?? place;
    if (from < place) return { kind: "going on", from };
    if (isOrnament(heard, spans, place)) return { kind: "ornament" };
    const length = note.offSeconds - note.onSeconds;
    if (note.unreadable !== null && length < LEAST_UNREADABLE_SECONDS) return { kind: "click" };
    if (ringsOn(heard, place, ECHO_DB)) return { kind: "echo" };
    return ringsOn(heard, place, RINGING_DB) ? { kind: "ringing on" } : { kind: "note" };
  });
}

/** A heard note as alignment sees it. */
export function playedAs(note: HeardNote, part: Part): Played {
  return {
    onSeconds: note.onSeconds,
    midi: note.pitchMidi,
    aloneCost: aloneCost(note, part),
    short: part.kind === "ornament" || part.kind === "click",
  };
}

function aloneCost(note: HeardNote, part: Part): number {
  switch (part.kind) {
    case "ornament":
      return ORNAMENT;
    case "going on":
    case "ringing on":
      return GOING_ON;
    case "click":
    case "echo":
      return 0;
    case "note":
      return note.pitchMidi === null ? UNREAD_EXTRA : EXTRA;
  }
}

/** A note with what goes on of it after ornaments. */
interface Span {
  /** The heard note it begins with. */
  readonly from: number;
  readonly seconds: number;
}

function noteSpans(heard: readonly HeardNote[], holding: boolean): readonly Span[] {
  const from = heard.map((_, place) => place);
  for (const [place, note] of heard.entries()) {
    const before = place - (holding ? 1 : 2);
    const first = heard[before];
    if (first === undefined || !sameReed(first, note)) continue;
    const broken = holding && note.onSeconds - first.offSeconds <= LONGEST_BREAK_SECONDS;
    if (broken || (!holding && splits(heard, place - 1))) from[place] = from[before] ?? before;
  }
  const ends = new Map<number, number>();
  for (const [place, first] of from.entries()) ends.set(first, heard[place]?.offSeconds ?? 0);
  return from.map((first) => ({
    from: first,
    seconds: (ends.get(first) ?? 0) - (heard[first]?.onSeconds ?? 0),
  }));
}

/** Whether a sound of an ornament's length stands between two touching sounds. */
function splits(heard: readonly HeardNote[], place: number): boolean {
  const note = heard[place];
  return (
    note !== undefined && isShort(note) && touches(heard[place - 1], note) && touches(note, heard[place + 1])
  );
}

/** Whether a short sound touches a note that is long against it. */
function isOrnament(heard: readonly HeardNote[], spans: readonly Span[], place: number): boolean {
  const note = heard[place];
  if (note === undefined || !isShort(note)) return false;
  const length = note.offSeconds - note.onSeconds;
  const decorates = (other: number, near: boolean) =>
    near && length <= MOST_OF_ITS_NOTE * (spans[other]?.seconds ?? 0);
  return (
    decorates(place + 1, touches(note, heard[place + 1])) ||
    decorates(place - 1, touches(heard[place - 1], note))
  );
}

/** Whether the same reed, or one whose harmonic this is, so much louder, has just ended. */
function ringsOn(heard: readonly HeardNote[], place: number, softerDb: number): boolean {
  const note = heard[place];
  for (let before = place - 1; before >= 0; before--) {
    const one = heard[before];
    if (note === undefined || one === undefined || note.onSeconds - one.offSeconds > RINGING_SECONDS)
      return false;
    if (isHarmonic(note, one) && one.levelDbfs - note.levelDbfs >= softerDb) return true;
  }
  return false;
}

function isHarmonic(note: HeardNote, of: HeardNote): boolean {
  if (note.pitchMidi === null || of.pitchMidi === null) return false;
  const ratio = 2 ** ((note.pitchMidi - of.pitchMidi) / 12);
  const number = Math.max(1, Math.round(ratio));
  return number <= RINGING_HARMONICS && Math.abs(12 * Math.log2(ratio / number)) <= SAME_REED_SEMITONES;
}

const isShort = (note: HeardNote) => note.offSeconds - note.onSeconds <= LONGEST_ORNAMENT_SECONDS;

/** Whether two sounds were played in one go. */
export function touches(one: HeardNote | undefined, next: HeardNote | undefined): boolean {
  return one !== undefined && next !== undefined && next.onSeconds - one.offSeconds <= TOUCHING_SECONDS;
}

function sameReed(one: HeardNote, other: HeardNote): boolean {
  if (one.pitchMidi === null || other.pitchMidi === null) return false;
  return Math.abs(one.pitchMidi - other.pitchMidi) <= SAME_REED_SEMITONES;
}
