import type { Truth } from "../corpus/truth.ts";
import type { Answer } from "../engines/answer.ts";
import { matched } from "./matching.ts";
import { isNoteWithin, USUAL_ONSET_SECONDS } from "./note-measures.ts";

/** One true note and the second reed heard with it. */
export interface LeakOutcome {
  /** The reed that did leak; null for a clean note. */
  readonly trueMidi: number | null;
  /** What was said of the heard note that is this one; null where nothing was, or no such note was heard. */
  readonly heard: { readonly midi: number; readonly db: number } | null;
}

/** Each true note of a take with the leak said of the heard note matched to it (onset within 50 ms, 50 cents). */
export function leakOutcomes(truth: Truth, answer: Answer): LeakOutcome[] {
  const heard = new Map<number, LeakOutcome["heard"]>();
  for (const [e, r] of matched(truth.notes, answer.notes, isNoteWithin(USUAL_ONSET_SECONDS)).entries()) {
    if (r >= 0) heard.set(r, answer.notes[e]?.leak ?? null);
  }
  return truth.notes.map(({ leak }, r) => ({
    trueMidi: leak?.midi ?? null,
    heard: heard.get(r) ?? null,
  }));
}

export interface LeakScore {
  readonly leaky: number;
  readonly clean: number;
  /** Shares, 0..1, as the engine says it. */
  readonly found: number;
  readonly falseAlarms: number;
  /** Share found once only leaks above a level count, the lowest that keeps false alarms to the share asked for. */
  readonly foundAtLimit: number;
  /** That level, dB against the note; null where every leak said counts. */
  readonly levelDb: number | null;
  /** Among those found at that level: the right reed named. */
  readonly rightReed: number;
}

/**
 * How well leaks are told from clean notes.
 *
 * @param falseAlarmShare share of clean notes, 0..1, that may be called leaky
 */
export function leakScore(outcomes: readonly LeakOutcome[], falseAlarmShare: number): LeakScore {
  const leaky = outcomes.filter(({ trueMidi }) => trueMidi !== null);
  const clean = outcomes.filter(({ trueMidi }) => trueMidi === null);
  const alarms = clean.flatMap(({ heard }) => (heard === null ? [] : [heard.db])).sort((a, b) => b - a);
  const levelDb = alarms[Math.floor(falseAlarmShare * clean.length)] ?? null;
  const found = leaky.filter(({ heard }) => heard !== null && (levelDb === null || heard.db > levelDb));
  const right = found.filter(({ trueMidi, heard }) => heard?.midi === trueMidi).length;
  return {
    leaky: leaky.length,
    clean: clean.length,
    found: leaky.filter(({ heard }) => heard !== null).length / leaky.length,
    falseAlarms: alarms.length / clean.length,
    foundAtLimit: found.length / leaky.length,
    levelDb,
    rightReed: right / found.length,
  };
}
