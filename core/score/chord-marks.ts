import { type Exercise, type ExpectedNote, holesOf } from "../exercise/exercise.ts";
import { reedNote } from "../instrument/harp.ts";
import type { Breath } from "../instrument/layout.ts";
import { chordTab } from "../instrument/tab.ts";
import type { HeardChord } from "../listen/chords/heard-chord.ts";
import type { Listening } from "../listen/listening.ts";
import type { ExtraNote } from "./attempt.ts";
import type { Diagnosis, DiagnosisKind, Mark, Verdict } from "./mark.ts";

/** Marks of chords, from the marks of when they came: whether the right holes sounded and none else. */
export function markChords(
  exercise: Exercise,
  listening: Listening,
  marks: readonly Mark[],
): readonly Mark[] {
  return marks.map((mark) => {
    const expected = exercise.notes[mark.index];
    const heard = chordOf(listening, mark);
    if (expected === undefined || heard === null) return mark;
    // Of a chord nothing is said on intonation: its reeds have the pitch they are tuned to.
    const timed = { ...mark, ...NOT_OF_CHORDS, heardMidi: lowestNote(exercise, heard) };
    return { ...timed, ...judge(exercise, expected, heard) };
  });
}

const NOT_OF_CHORDS = {
  cents: null,
  reedCents: null,
  scoop: null,
  fall: null,
  hold: null,
  intonation: null,
  secondReed: null,
} as const;

/** Chords too many, called by all their holes. */
export function chordExtras(listening: Listening, extras: readonly ExtraNote[]): readonly ExtraNote[] {
  return extras.map((extra) => {
    const heard = chordOf(listening, extra);
    const heardAs = heard === null || heard.breath === null ? [] : [chordTab(heard.breath, heard.holes)];
    return { ...extra, heardAs, diagnosis: null };
  });
}

/** The chord heard within a stretch of the take, the longest of several. */
function chordOf(
  { chords = [] }: Listening,
  { onSeconds, offSeconds }: Pick<Mark, "onSeconds" | "offSeconds">,
): HeardChord | null {
  if (onSeconds === null || offSeconds === null) return null;
  return chords
    .filter((chord) => chord.onSeconds >= onSeconds - 1e-6 && chord.offSeconds <= offSeconds + 1e-6)
    .reduce<HeardChord | null>(
      (longest, chord) => (longest === null || lengthOf(chord) > lengthOf(longest) ? chord : longest),
      null,
    );
}

const lengthOf = ({ onSeconds, offSeconds }: HeardChord) => offSeconds - onSeconds;

function lowestNote({ harp }: Exercise, { breath, holes }: HeardChord) {
  const [lowest] = holes;
  return breath === null || lowest === undefined ? null : reedNote(harp, lowest, breath);
}

type Judged = Pick<Mark, "verdict" | "heardAs" | "diagnosis" | "reason" | "chord">;

function judge(exercise: Exercise, expected: ExpectedNote, heard: HeardChord): Judged {
  const { breath, holes, unsureHoles, octaveHoles } = heard;
  const chord = { breath, holes, unsureHoles, octaveHoles };
  const said = (verdict: Verdict, reason: string | null, diagnosis: Diagnosis | null = null): Judged => ({
    verdict,
    heardAs: verdict === "wrong" && breath !== null ? [chordTab(breath, holes)] : [],
    diagnosis,
    reason,
    chord,
  });
  if (breath === null) return said("not measured", `which holes sound is not sure: ${heard.unsure}`);
  const wanted = { breath: expected.action.breath, holes: holesOf(expected) };
  const apart = differences(exercise, wanted, heard);
  if (apart.missing.length + apart.tooMany.length > 0)
    return said("wrong", null, diagnose(wanted, { breath, holes }, apart));
  const open = apart.open.map((hole) => chordTab(breath, [hole]));
  if (open.length === 0) return said("hit", null);
  return said("not measured", `whether ${open.join(" and ")} sounds with the rest cannot be told`);
}

interface Holes {
  readonly breath: Breath;
  readonly holes: readonly number[];
}

interface Differences {
  /** Holes that were asked for and surely do not sound. */
  readonly missing: readonly number[];
  /** Holes that surely sound and were not asked for. */
  readonly tooMany: readonly number[];
  /** Holes of which it matters whether they sound, and cannot be told. */
  readonly open: readonly number[];
}

/** Holes are compared by what they sound: two in unison are one. */
function differences({ harp }: Exercise, wanted: Holes, heard: HeardChord): Differences {
  const breath = heard.breath ?? wanted.breath;
  const notesOf = (holes: readonly number[], of: Breath = breath) =>
    holes.map((hole) => reedNote(harp, hole, of));
  const sounding = notesOf(heard.holes);
  const asked = notesOf(wanted.holes, wanted.breath);
  const unsure = notesOf(heard.unsureHoles);
  const octaves = notesOf(heard.octaveHoles);
  const lacking = wanted.holes.filter((_, place) => !sounding.includes(asked[place] ?? null));
  const isOpen = (hole: number) => {
    const note = reedNote(harp, hole, wanted.breath);
    return unsure.includes(note) || octaves.includes(note);
  };
  return {
    missing: lacking.filter((hole) => !isOpen(hole)),
    tooMany: heard.holes.filter((_, place) => !asked.includes(sounding[place] ?? null)),
    open: [
      ...lacking.filter(isOpen),
      ...heard.unsureHoles.filter((_, place) => !asked.includes(unsure[place] ?? null)),
    ],
  };
}

function diagnose(wanted: Holes, heard: Holes, { missing, tooMany }: Differences): Diagnosis {
  const instead = `${chordTab(heard.breath, heard.holes)} instead of ${chordTab(wanted.breath, wanted.holes)}`;
  return {
    kind: kindOf(wanted, heard, missing, tooMany),
    words: instead,
    action: null,
    holes: heard.holes,
    offCents: null,
    others: [],
  };
}

function kindOf(
  wanted: Holes,
  heard: Holes,
  missing: readonly number[],
  tooMany: readonly number[],
): DiagnosisKind {
  if (wanted.breath !== heard.breath) {
    return String(wanted.holes) === String(heard.holes) ? "wrong breath" : "another chord";
  }
  const moved = (heard.holes[0] ?? 0) - (wanted.holes[0] ?? 0);
  const isMoved = String(heard.holes) === String(wanted.holes.map((hole) => hole + moved));
  if (isMoved && Math.abs(moved) === 1) return "neighbour hole";
  if (tooMany.length === 0) return "hole missing";
  return missing.length === 0 ? "hole too many" : "another chord";
}
