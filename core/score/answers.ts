import {
  countInSeconds,
  type Exercise,
  type ExpectedNote,
  lengthOf,
  onsetOf,
  targetMidi,
} from "../exercise/exercise.ts";
import type { HeardNote } from "../listen/listening.ts";
import { beatsToSeconds } from "../tune/tempo.ts";
import { type Beats, seconds } from "../units.ts";
import { align } from "./align.ts";
import type { Visit, Written } from "./align-costs.ts";
import { hasBeat, type TakeStart, type Way } from "./attempt.ts";
import { chordAround } from "./chords.ts";
import { type Part, partsOf, playedAs } from "./played-parts.ts";
import {
  type Answer,
  ownTempo,
  type Stretch,
  splitIntoStretches,
  startLimit,
  type Timed,
  timeAnswers,
} from "./stretches.ts";
import { findTakeStart } from "./take-start.ts";
import { guessStretch } from "./tempo-guess.ts";
import { type Abandoned, tellTriesApart } from "./tries.ts";

/** A heard note that is neither a click nor an echo, with what it can be. */
export interface Sound {
  readonly note: HeardNote;
  readonly part: Part;
  /** Its place among all heard notes, by which `part` names others. */
  readonly place: number;
}

/** Which sounds answered which expected notes, and when. */
export interface Answered {
  /** By onset, latency taken off. */
  readonly sounds: readonly Sound[];
  /** Expected note and sound, ascending on both sides. */
  readonly answers: readonly Visit[];
  /** In places of `sounds`. */
  readonly abandoned: readonly Abandoned[];
  readonly stretches: readonly Stretch[];
  readonly start: TakeStart;
  /** Onset errors by expected note; none where the way has no beat. */
  readonly timed: ReadonlyMap<number, Timed>;
  /** Time to the next note against what is written, by expected note. */
  readonly lengthShares: ReadonlyMap<number, number>;
  /** Seconds played for each second written. */
  readonly stretch: number;
}

export interface AnswerSettings {
  /** Where beat 0 lies, or null where a count-in is assumed to begin the take. */
  readonly beatZeroSeconds: number | null;
  readonly rightNoteCents: number;
  readonly way: Way;
}

/** @param heard notes by onset, latency taken off */
export function answerExercise(
  exercise: Exercise,
  heard: readonly HeardNote[],
  settings: AnswerSettings,
): Answered {
  const { way, rightNoteCents } = settings;
  const parts = partsOf(heard, way === "hold");
  const sounds = heard.flatMap((note, place): Sound[] => {
    const part = parts[place];
    if (part === undefined || part.kind === "click" || part.kind === "echo") return [];
    return [{ note, part, place }];
  });
  const written = exercise.notes.map((note) => writtenOf(exercise, note));
  const played = sounds.map(({ note, part }) => playedAs(note, part));
  const stretch = guessStretch(written, played);
  const expected = {
    beatZeroSeconds: seconds(settings.beatZeroSeconds ?? countInSeconds(exercise)),
    known: settings.beatZeroSeconds !== null,
  };
  const path = align(written, played, { rightNoteCents, startSeconds: expected.beatZeroSeconds, stretch });
  const { answers, begunAgain, abandoned } = tellTriesApart(path, sounds.length);
  const beatSeconds = beatsToSeconds(1 as Beats, exercise.tempo);
  const notes = sounds.map(({ note }) => note);
  const taken = new Set(path.map((visit) => visit.played));
  const free = (place: number) => place >= 0 && place < sounds.length && !taken.has(place);
  const timedAnswers = answers.map((visit, place) =>
    answerOf(visit, written, notes, begunAgain.has(place), chordAround(notes, visit.played, free).from),
  );
  const found = splitIntoStretches(timedAnswers, { stretch, beatSeconds, hasBeat: hasBeat(way) });
  const start = findTakeStart(found[0], expected, beatSeconds, stretch);
  const stretches = withLateStart(found, start, beatSeconds);
  const zero = stretches[0]?.begins === "start" ? start.beatZeroSeconds : null;
  return {
    sounds,
    answers,
    abandoned,
    stretches,
    start,
    timed: hasBeat(way) ? timeAnswers(stretches, zero, beatSeconds) : new Map(),
    lengthShares: shareLengths(stretches),
    stretch,
  };
}

function writtenOf(exercise: Exercise, note: ExpectedNote): Written {
  const inBar = note.startBeats / exercise.beatsPerBar;
  return {
    onSeconds: onsetOf(exercise, note),
    lengthSeconds: lengthOf(exercise, note),
    midi: targetMidi(exercise, note),
    startsBar: note.index === 0 || Math.abs(inBar - Math.round(inBar)) < 1e-6,
  };
}

/** @param first the sound it begins with: of two holes at once, the other may be heard first */
function answerOf(
  visit: Visit,
  written: readonly Written[],
  notes: readonly HeardNote[],
  again: boolean,
  first: number,
): Answer {
  const note = written[visit.written];
  const heard = notes[first];
  if (note === undefined || heard === undefined)
    throw new RangeError(`alignment names ${visit.written} and ${visit.played}, which are not there`);
  return {
    index: visit.written,
    writtenSeconds: note.onSeconds,
    lengthSeconds: note.lengthSeconds,
    onSeconds: heard.onSeconds,
    again,
  };
}

/** Who comes in whole beats after a known beat 0 has started late, which is no bias. */
function withLateStart(
  stretches: readonly Stretch[],
  start: TakeStart,
  beatSeconds: number,
): readonly Stretch[] {
  const [first, ...rest] = stretches;
  const [one] = first?.answers ?? [];
  if (first === undefined || one === undefined) return stretches;
  const late = one.onSeconds - one.writtenSeconds - start.beatZeroSeconds > startLimit(beatSeconds);
  return late ? [{ ...first, begins: "late start" }, ...rest] : stretches;
}

function shareLengths(stretches: readonly Stretch[]): ReadonlyMap<number, number> {
  const shares = new Map<number, number>();
  for (const { answers } of stretches) {
    for (const [at, answer] of answers.entries()) {
      const next = answers[at + 1];
      const tempo = ownTempo(answers, at);
      if (next === undefined || next.index !== answer.index + 1 || tempo === null || tempo.slope <= 0)
        continue;
      const written = tempo.slope * (next.writtenSeconds - answer.writtenSeconds);
      if (written > 0) shares.set(answer.index, (next.onSeconds - answer.onSeconds) / written);
    }
  }
  return shares;
}
