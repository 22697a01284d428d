import { useCallback, useEffect, useRef, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";

interface HearButtonProps {
  readonly exercise: Exercise;
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
}

/** Lets the player hear the drill before choosing it; the same key or another drill silences it. */
export function HearButton({ exercise, onHear }: HearButtonProps) {
  const [hearing, setHearing] = useState(false);
  const silence = useRef<(() => void) | null>(null);
  const asked = useRef(0);
  const hush = useCallback(() => {
    asked.current++;
    silence.current?.();
    silence.current = null;
    setHearing(false);
  }, []);
  const toggle = useCallback(async () => {
    if (silence.current !== null) return hush();
    const mine = ++asked.current;
    setHearing(true);
    const stop = await onHear(exercise, hush).catch(() => null);
    if (stop === null) return hush();
    // Hushed, or left, before it began.
    if (mine === asked.current) silence.current = stop;
    else stop();
  }, [exercise, onHear, hush]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another exercise, or leaving the screen, ends the sound
  useEffect(() => hush, [exercise, hush]);
  useVerbs({ hear: () => void toggle() });
  return (
    <button type="button" onClick={() => void toggle()}>
      {hearing ? "Hush" : "Hear it"} <Key verb="hear" />
    </button>
  );
}
