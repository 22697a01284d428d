import type { Tempo } from "../tune/tempo.ts";

/** Shorter notes than this cannot be marked: the ear of this program needs about 40 ms of settled tone after the attack. */
export const SHORTEST_NOTE_SECONDS = 0.1;

/** Notes that share one beat evenly. Six fit a dotted crotchet as semiquavers. */
export type NotesPerBeat = 1 | 2 | 3 | 4 | 6;
export const NOTES_PER_BEAT: readonly NotesPerBeat[] = [1, 2, 3, 4, 6];

/**
 * How the notes that share a beat divide it.
 *
 * Pairs are long and short: 3:1 when dotted, `ratio`:1 when swung. Groups of three are long, short, medium, the last
 * keeping its third: 3:1:2 when dotted (irishtune.info, rhythm definitions), else (2r : 2 : r+1).
 * Dotted notes are written as they sound; swung ones are written even, with a remark.
 */
export type Rhythm =
  | { readonly kind: "even" }
  | { readonly kind: "dotted" }
  | { readonly kind: "swung"; readonly ratio: number };

export const EVEN: Rhythm = { kind: "even" };

/** Ratios a swing may have: 1 is even; drummers have been measured up to 3.5 (Friberg and Sundström 2002). */
export const LEAST_SWING = 1;
export const MOST_SWING = 4;

/** Which notes are played stronger, as dancers are helped by: the first of each bar, of each beat, or what follows it. */
export type Accents = "none" | "bars" | "beats" | "off-beats";
export const ACCENTS: readonly Accents[] = ["none", "bars", "beats", "off-beats"];

/** "swing 2:1", or null where the page needs no remark. */
export function rhythmRemark(rhythm: Rhythm): string | null {
  return rhythm.kind === "swung" ? `swing ${Math.round(100 * rhythm.ratio) / 100}:1` : null;
}

/** Long to short: 3 for dotted, 1 for even. */
function ratioOf(rhythm: Rhythm): number {
  if (rhythm.kind === "swung") return rhythm.ratio;
  return rhythm.kind === "dotted" ? 3 : 1;
}

/**
 * Where a point of the even grid sounds.
 *
 * @param at  beats on the even grid, >= 0
 * @returns beats; whole beats stay where they are
 */
export function soundingBeat(at: number, notesPerBeat: NotesPerBeat, rhythm: Rhythm): number {
  const ratio = ratioOf(rhythm);
  if (ratio === 1 || notesPerBeat === 1) return at;
  const long = ratio / (ratio + 1);
  const unit = notesPerBeat === 3 ? 1 : 2 / notesPerBeat;
  const whole = Math.floor(at / unit + 1e-9);
  const within = Math.max(0, at / unit - whole);
  const turn = notesPerBeat === 3 ? 1 / 3 : 1 / 2;
  const shared = notesPerBeat === 3 ? 2 / 3 : 1;
  const bent =
    within <= turn
      ? (within / turn) * long * shared
      : within <= shared
        ? shared * (long + ((within - turn) / (shared - turn)) * (1 - long))
        : within;
  return unit * (whole + bent);
}

/** Length in beats of the shortest note a rhythm makes of the even grid. */
export function shortestBeats(notesPerBeat: NotesPerBeat, rhythm: Rhythm): number {
  const ratio = notesPerBeat === 1 ? 1 : ratioOf(rhythm);
  const even = 1 / notesPerBeat;
  return even * Math.min(1, 2 / (ratio + 1));
}

/**
 * Why notes of this length cannot be marked, or null if they can.
 *
 * @param lengthBeats length of the shortest note, > 0
 */
export function tooShort(lengthBeats: number, tempo: Tempo): string | null {
  const noteSeconds = (60 * lengthBeats) / tempo.bpm;
  if (noteSeconds >= SHORTEST_NOTE_SECONDS - 1e-9) return null;
  return `notes would last ${Math.round(noteSeconds * 1000)} ms; the shortest that can be marked last ${SHORTEST_NOTE_SECONDS * 1000} ms: take a slower tempo or fewer notes to the beat`;
}
