import type { AskKind, ProgressAnswers } from "../progress/progress-view.ts";
import type { OnHistoryChange } from "../store/history-changes.ts";
import ProgressWorker from "./progress.worker.ts?worker";
import type { ProgressQuestion, ProgressReport } from "./progress-report.ts";

/** How a question ended. */
export type Outcome<Kind extends AskKind> =
  | { readonly kind: "read"; readonly answer: ProgressAnswers[Kind]["answer"] }
  | { readonly kind: "trouble"; readonly words: string };

/** What the history says, found off the window's thread. */
export interface ProgressWork {
  /** @returns what ends the question; nothing is told of it afterwards */
  ask<Kind extends AskKind>(
    kind: Kind,
    ask: ProgressAnswers[Kind]["ask"],
    onOutcome: (outcome: Outcome<Kind>) => void,
  ): () => void;
  /** The answer where it was asked before and the history is as it was; null otherwise. */
  known<Kind extends AskKind>(kind: Kind, ask: ProgressAnswers[Kind]["ask"]): Outcome<Kind> | null;
}

type AnyOutcome = Outcome<AskKind>;

/** A question being answered, and who waits for it. */
interface Waiting {
  readonly key: string;
  /** Which state of the history it is asked of. */
  readonly state: number;
  readonly listeners: Set<(outcome: AnyOutcome) => void>;
}

/** A question nobody waits for any more is given up after so long, in milliseconds. */
const GRACE_MS = 200;

/** Answers kept at once: more than there are on the screens between two changes. */
const MOST_KNOWN = 32;

/**
 * One worker for all questions, which keeps the database open; it begins with the first of them. What was answered is kept until the
 * history changes.
 */
export function createProgressWork(
  onChange: OnHistoryChange,
  newWorker: () => Worker = () => new ProgressWorker(),
): ProgressWork {
  const waiting = new Map<number, Waiting>();
  const known = new Map<string, AnyOutcome>();
  let worker: Worker | null = null;
  let count = 0;
  let state = 0;
  onChange(() => {
    state += 1;
    known.clear();
  });

  const end = (number: number, outcome: AnyOutcome): void => {
    const question = waiting.get(number);
    if (question === undefined) return;
    waiting.delete(number);
    if (outcome.kind === "read" && question.state === state) {
      if (known.size >= MOST_KNOWN) known.clear();
      known.set(question.key, outcome);
    }
    for (const tell of question.listeners) tell(outcome);
  };
  const begin = (): Worker => {
    const begun = newWorker();
    begun.onmessage = ({ data }: MessageEvent<ProgressReport>) =>
      end(
        data.number,
        data.kind === "trouble"
          ? { kind: "trouble", words: data.words }
          : { kind: "read", answer: data.answer as never },
      );
    begun.onerror = ({ message }) => {
      begun.terminate();
      worker = null;
      for (const number of [...waiting.keys()]) end(number, { kind: "trouble", words: message });
    };
    return begun;
  };
  /** The same question of the same history, if it is being answered already. */
  const asked = (key: string) =>
    [...waiting].find(([, question]) => question.key === key && question.state === state);

  return {
    ask(kind, ask, onOutcome) {
      const key = keyOf(kind, ask);
      const tell = (outcome: AnyOutcome) => onOutcome(outcome as never);
      const [number, question] = asked(key) ?? [++count, { key, state, listeners: new Set() }];
      question.listeners.add(tell);
      if (!waiting.has(number)) {
        waiting.set(number, question);
        worker ??= begin();
        worker.postMessage({ number, kind, ask } as ProgressQuestion);
      }
      return () => {
        question.listeners.delete(tell);
        // A picture that is made anew asks the same again at once.
        setTimeout(() => {
          if (question.listeners.size > 0 || !waiting.delete(number) || waiting.size > 0) return;
          // Nobody waits for what it is doing: the next question need not either.
          worker?.terminate();
          worker = null;
        }, GRACE_MS);
      };
    },
    known: (kind, ask) => (known.get(keyOf(kind, ask)) as never) ?? null,
  };
}

const keyOf = (kind: AskKind, ask: unknown): string => `${kind} ${JSON.stringify(ask)}`;
