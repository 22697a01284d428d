import { useCallback, useEffect, useRef, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";

interface HearButtonProps {
  readonly exercise: Exercise;
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
}

/** Lets the player hear the drill before choosing it; the same key or another drill silences it. */
export function HearButton({ exercise, onHear }: HearButtonProps) {
  const [hearing, setHearing] = useState(false);
  const silence = useRef<(() => void) | null>(null);
  const hush = useCallback(() => {
    silence.current?.();
    silence.current = null;
    setHearing(false);
  }, []);
  const toggle = useCallback(async () => {
    if (silence.current !== null) return hush();
    setHearing(true);
    silence.current = await onHear(exercise, hush);
  }, [exercise, onHear, hush]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another exercise, or leaving the screen, ends the sound
  useEffect(() => hush, [exercise, hush]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const typing = event.target instanceof HTMLInputElement && event.target.type !== "radio";
      if (event.key !== "h" || event.ctrlKey || event.metaKey || event.altKey || typing) return;
      if (event.target instanceof HTMLSelectElement) return;
      event.preventDefault();
      void toggle();
    };
    window.addEventListener("keydown", onKey);
    return () => window.removeEventListener("keydown", onKey);
  }, [toggle]);
  return (
    <button type="button" onClick={() => void toggle()}>
      {hearing ? "Hush" : "Hear it"} <kbd>H</kbd>
    </button>
  );
}
