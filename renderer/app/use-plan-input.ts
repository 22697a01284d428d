import { useEffect, useRef, useState } from "react";
import type { PlanInput } from "../../core/progress/plan/plan-shape.ts";
import { type PlanSources, type PlanWanted, readPlanInput } from "./plan-input.ts";
import { sentence } from "./use-history.ts";

/** What a plan is made from, as far as it is read. */
type Read =
  | { readonly kind: "reading" }
  | { readonly kind: "trouble"; readonly words: string }
  | { readonly kind: "read"; readonly input: PlanInput };

const STOPPED = new DOMException("stopped", "AbortError");

/**
 * Reads what a plan of the day is made from; what was read before stands until it is read anew. Who leaves while it is read finds it
 * read when he is back: what is asked has not changed by that.
 *
 * @param isWanted whether the plan is looked at: nothing is begun before
 * @param version  changes whenever the history did
 */
export function usePlanInput(sources: PlanSources, wanted: PlanWanted, isWanted: boolean, version: number) {
  const [read, setRead] = useState<Read>({ kind: "reading" });
  const [tries, setTries] = useState(0);
  const latest = useRef({ sources, wanted });
  latest.current = { sources, wanted };
  const running = useRef<AbortController | null>(null);

  const begin = () => {
    const abort = new AbortController();
    running.current = abort;
    setRead((before) => (before.kind === "read" ? before : { kind: "reading" }));
    const end = (outcome: Read) => {
      if (running.current !== abort) return;
      running.current = null;
      setRead(outcome);
    };
    const { sources, wanted } = latest.current;
    readPlanInput(sources, wanted, abort.signal).then(
      (input) => end({ kind: "read", input }),
      (error: unknown) => end({ kind: "trouble", words: wordsOf(error, abort.signal) }),
    );
  };
  const asked = [version, tries, wanted.day, wanted.drills, wanted.known] as const;
  const before = useRef<typeof asked | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: read anew when asked to, and when the history changed
  useEffect(() => {
    if (!isWanted) return;
    const isSame = before.current?.every((one, place) => one === asked[place]) === true;
    if (isSame && running.current !== null) return;
    giveUp(running);
    before.current = asked;
    begin();
  }, [isWanted, ...asked]);
  useEffect(() => () => giveUp(running), []);

  return {
    read,
    stop: () => running.current?.abort(STOPPED),
    again: () => setTries(tries + 1),
    /** Changes what was read, where something was. */
    patch: (change: (input: PlanInput) => PlanInput) =>
      setRead((now) => (now.kind === "read" ? { ...now, input: change(now.input) } : now)),
  };
}

/** Ends what is being read, and nothing is told of it any more. */
function giveUp(running: { current: AbortController | null }): void {
  const abort = running.current;
  running.current = null;
  abort?.abort(STOPPED);
}

const wordsOf = (error: unknown, signal: AbortSignal): string =>
  signal.aborted ? "Stopped. Nothing was changed." : `The plan could not be made: ${sentence(error)}`;
