/** What a simulated player does with the notes of an exercise, and what the marks make of it. */
import { countInSeconds, type Exercise, onsetOf, targetMidi } from "../../../core/exercise/exercise.ts";
import type { Random } from "../../../core/exercise/seeded-random.ts";
import type { Listening } from "../../../core/listen/listening.ts";
import type { Attempt } from "../../../core/score/attempt.ts";
import {
  type Intonation,
  type Mark,
  type Timing,
  USUAL_TOLERANCES,
  withinTolerance,
} from "../../../core/score/mark.ts";
import { fitLine, sampleDeviation } from "../../../core/score/statistics.ts";
import { heardNote, listeningOf } from "../../../core/simulate/perfect-ear.ts";
import { cents, milliseconds } from "../../../core/units.ts";

/** How a player plays just now. */
export interface Form {
  /** Share of notes left out, 0..1, unless `trouble` says otherwise for a reed action. */
  readonly missed: number;
  /** Of all plain notes, positive is sharp; bends lie `bendCents` further. */
  readonly biasCents: number;
  readonly spreadCents: number;
  readonly bendCents: number;
  readonly bendSpreadCents: number;
  /** Positive is late. */
  readonly biasMs: number;
  readonly spreadMs: number;
  /** Each reed's own offset, by tab; 0 where absent. */
  readonly reedCents: ReadonlyMap<string, number>;
  /** Share left out, by tab, or by two tabs in turn. */
  readonly missedAt: ReadonlyMap<string, number>;
}

/** One note as it was played; null where it was left out. */
export type PlayedNote = { readonly cents: number; readonly ms: number } | null;

export function play(exercise: Exercise, form: Form, normal: Random, random: Random): readonly PlayedNote[] {
  return exercise.notes.map(({ action, tab }, place): PlayedNote => {
    const missed = form.missedAt.get(tab) ?? form.missed;
    const [first, last] = [place === 0, place === exercise.notes.length - 1];
    const own = form.reedCents.get(tab) ?? 0;
    const bent = action.technique !== "plain";
    const played = {
      cents:
        own +
        form.biasCents +
        (bent ? form.bendCents + form.bendSpreadCents * normal() : form.spreadCents * normal()),
      ms: form.biasMs + form.spreadMs * normal(),
    };
    // Ends are always played: a take that begins late is told as such, which is not what is simulated here.
    return random() < missed && !first && !last ? null : played;
  });
}

/** What a perfect ear hears of it. Notes further off than the right note may lie are other notes: see `keptRight`. */
export function heard(exercise: Exercise, played: readonly PlayedNote[]): Listening {
  const lead = countInSeconds(exercise);
  return listeningOf(
    exercise.notes.flatMap((note, place) => {
      const own = played[place];
      if (own === null || own === undefined) return [];
      const onSeconds = lead + onsetOf(exercise, note) + own.ms / 1000;
      return [heardNote(onSeconds, targetMidi(exercise, note) + own.cents / 100)];
    }),
    120,
  );
}

/** As the marks have it: further than the right note may lie is another note. Here such notes stay within, at the edge. */
export function keptRight(played: readonly PlayedNote[]): readonly PlayedNote[] {
  const most = USUAL_TOLERANCES.rightNoteCents - 1;
  return played.map((note) =>
    note === null ? null : { ...note, cents: Math.max(-most, Math.min(most, note.cents)) },
  );
}

/** What progress reads of an attempt. */
export type Marked = Pick<Attempt, "marks" | "summary" | "start">;

/**
 * The marks such notes get, without going by way of sound and alignment: a test holds that `scoreTake` says the same of every
 * field progress reads. A thousand players' months are otherwise hours of work.
 */
export function marked(exercise: Exercise, played: readonly PlayedNote[]): Marked {
  const marks = exercise.notes.map((note, place) => markOf(note, played[place] ?? null));
  const answered = exercise.notes.flatMap((note, place) => {
    const own = played[place];
    return own === null || own === undefined
      ? []
      : [{ x: onsetOf(exercise, note), y: onsetOf(exercise, note) + own.ms / 1000 }];
  });
  const line = fitLine(answered);
  const left =
    line === null ? [] : answered.map(({ x, y }) => y - line.middleY - line.slope * (x - line.middleX));
  const deviation = sampleDeviation(left);
  const hit = answered.length;
  return {
    marks,
    start: { source: "given" },
    summary: {
      notes: { expected: marks.length, hit, wrong: 0, missed: marks.length - hit, notMeasured: 0, extra: 0 },
      timing: { evennessMs: deviation === null ? null : 1000 * deviation, measuredNotes: hit },
    },
  } as unknown as Marked;
}

function markOf({ action, tab, index }: Exercise["notes"][number], played: PlayedNote): Mark {
  const hit = played !== null;
  return {
    action,
    tab,
    index,
    verdict: hit ? "hit" : "missed",
    msFrom: hit ? "beat" : null,
    cents: hit ? cents(played.cents) : null,
    ms: hit ? milliseconds(played.ms) : null,
    intonation: hit ? intonationOf(played.cents, action.technique === "plain") : null,
    timing: hit ? timingOf(played.ms) : null,
  } as unknown as Mark;
}

function intonationOf(off: number, plain: boolean): Intonation {
  const { offCents, inTuneCents, bendInTuneCents } = USUAL_TOLERANCES;
  if (withinTolerance(off, plain ? inTuneCents : bendInTuneCents)) return "in tune";
  if (withinTolerance(off, offCents)) return "close";
  return off > 0 ? "sharp" : "flat";
}

function timingOf(off: number): Timing {
  if (withinTolerance(off, USUAL_TOLERANCES.onBeatMs)) return "on the beat";
  return off > 0 ? "late" : "early";
}
