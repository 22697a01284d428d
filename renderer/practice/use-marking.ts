import { useEffect, useRef, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { retune } from "../../core/exercise/retune.ts";
import type { Listening } from "../../core/listen/listening.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import { type MarkingSettings, markingOf, settingsAgain } from "../../core/score/mark-again.ts";
import { changesInWords } from "./mark-again-words.ts";
import type { PracticeSession } from "./practice-session.ts";
import type { PracticeState } from "./practice-state.ts";

/** Marks by other settings than those a take was first marked by. */
interface OtherMarks {
  /** The marks they stand in for: with a new take they are gone. */
  readonly of: Attempt;
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  readonly listening: Listening;
  readonly words: string;
  /** Whether the history has these marks now, and whether it has other marks than those the take had first. */
  readonly kept: boolean;
  readonly replaced: boolean;
}

/** What is under way, or what came of it. */
export type Remarking =
  | { readonly kind: "idle" }
  | { readonly kind: "working"; readonly share: number }
  | { readonly kind: "failed"; readonly words: string };

/** The marks on the sheet: those of the take, or others made of it since. */
export interface Marking {
  readonly exercise: Exercise;
  readonly state: PracticeState;
  /** What was changed, while other marks are shown; null otherwise. */
  readonly changed: { readonly words: string; readonly kept: boolean; readonly canKeep: boolean } | null;
  readonly remarking: Remarking;
  readonly markBy: (settings: MarkingSettings) => void;
  /** Puts the marks shown into the history in place of the earlier ones. */
  readonly keep: () => void;
  /** Back to the marks the take had first, in the history too. */
  readonly goBack: () => void;
}

const IDLE: Remarking = { kind: "idle" };

export function useMarking(session: PracticeSession, state: PracticeState): Marking {
  const [other, setOther] = useState<OtherMarks | null>(null);
  const [remarking, setRemarking] = useState(IDLE);
  const working = useRef<AbortController | null>(null);
  useEffect(() => () => working.current?.abort(), []);
  const shown = state.kind === "marked" && other?.of === state.attempt ? other : null;
  const id = state.kind === "marked" && state.keeping.kind === "kept" ? state.keeping.id : null;

  const run = (work: (signal: AbortSignal) => Promise<OtherMarks | null>) => {
    working.current?.abort();
    const abort = new AbortController();
    working.current = abort;
    work(abort.signal).then(
      (made) => {
        if (abort.signal.aborted) return;
        setOther(made);
        setRemarking(IDLE);
      },
      (error: unknown) => {
        if (abort.signal.aborted) return;
        setRemarking({ kind: "failed", words: error instanceof Error ? error.message : String(error) });
      },
    );
  };

  const markBy = (settings: MarkingSettings) => {
    if (state.kind !== "marked" || state.take === null) return;
    session.stay();
    const { attempt: of, take } = state;
    const words = changesInWords(markingOf(session.exercise, of), settings);
    setRemarking({ kind: "working", share: 0 });
    run(async (signal) => {
      const exercise = retune(session.exercise, settings);
      const listening = await session.services.listenInWorker(take.samples, take.sampleRateHz, {
        known: reedsOfExercise(exercise),
        signal,
        onProgress: (share) => !signal.aborted && setRemarking({ kind: "working", share }),
      });
      const how = settingsAgain(of, settings.latencyMs);
      const attempt = await session.services.marking.mark(exercise, listening, how);
      // Marks that were kept meanwhile stay in the history until others are kept.
      const replaced = shown?.replaced ?? false;
      if (words === null && !replaced) return null;
      return { of, exercise, attempt, listening, words: words ?? "as at first", kept: false, replaced };
    });
  };

  const keep = () => {
    if (shown === null || id === null) return;
    run(async () => {
      await replaceMarks(session, id, shown.exercise, shown.attempt);
      return { ...shown, kept: true, replaced: true };
    });
  };

  const goBack = () => {
    if (shown === null) return;
    run(async () => {
      if (id !== null && shown.replaced) await replaceMarks(session, id, session.exercise, shown.of);
      return null;
    });
  };

  return {
    exercise: shown?.exercise ?? session.exercise,
    state:
      shown !== null && state.kind === "marked"
        ? { ...state, attempt: shown.attempt, listening: shown.listening }
        : state,
    changed: shown === null ? null : { words: shown.words, kept: shown.kept, canKeep: id !== null },
    remarking,
    markBy,
    keep,
    goBack,
  };
}

/** The take and its time stay; nothing is written where the attempt is no longer in the history. */
async function replaceMarks(
  session: PracticeSession,
  id: string,
  exercise: Exercise,
  attempt: Attempt,
): Promise<void> {
  const replaced = await session.services.history.replaceMarks(id, exercise, attempt);
  if (!replaced) throw new Error("that attempt is no longer in the history");
}
