import { useCallback, useEffect, useRef, useState } from "react";
import type { AskKind, ProgressAnswers, Read } from "../progress/progress-view.ts";
import { usePatience } from "../ui/use-patience.ts";
import type { Outcome, ProgressWork } from "./progress-work.ts";

const STOPPED = { kind: "trouble", words: "Stopped. Nothing was changed." } as const;

/**
 * An answer of the history, asked again whenever the question or the history changes. What is known stands there at once; else the
 * answer before stays for a moment, so that a quick one does not flicker.
 *
 * @param version changes whenever the history does
 */
export function useProgress<Kind extends AskKind>(
  work: ProgressWork,
  kind: Kind,
  ask: ProgressAnswers[Kind]["ask"],
  version: number,
) {
  const [outcome, setOutcome] = useState<Outcome<Kind> | null>(() => work.known(kind, ask));
  const [isAsking, setAsking] = useState(outcome === null);
  const end = useRef<() => void>(() => {});
  const again = useCallback(() => {
    const known = work.known(kind, ask);
    setAsking(known === null);
    if (known !== null) return setOutcome(known);
    end.current = work.ask(kind, ask, (told) => {
      setAsking(false);
      setOutcome(
        told.kind === "read"
          ? told
          : { kind: "trouble", words: `The history could not be gone through: ${told.words}.` },
      );
    });
  }, [work, kind, ask]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the history changed where the version did
  useEffect(() => {
    again();
    return () => end.current();
  }, [again, version]);
  const isLong = usePatience(isAsking);
  const stop = () => {
    end.current();
    setAsking(false);
    setOutcome(STOPPED);
  };
  const read: Read<ProgressAnswers[Kind]["answer"]> =
    outcome === null || isLong || (isAsking && outcome.kind === "trouble") ? { kind: "reading" } : outcome;
  return { read, stop, again };
}
