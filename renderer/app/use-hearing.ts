import { useCallback, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Hz, Seconds } from "../../core/units.ts";
import type { Services } from "./services.ts";

/** Lets exercises and reeds be heard; why one cannot be is told, and `hear` rejects. */
export function useHearing({ reference, reeds }: Pick<Services, "reference" | "reeds">, backing: boolean) {
  const [trouble, setTrouble] = useState<string | null>(null);
  const say = useCallback((error: unknown) => {
    const why = error instanceof Error ? error.message : String(error);
    setTrouble(`It cannot be heard: ${why}. See the sound check.`);
  }, []);
  const hear = useCallback(
    async (exercise: Exercise, onEnd: () => void): Promise<() => void> => {
      try {
        const sounding = await reference.play(exercise, {
          notes: true,
          metronome: "none",
          countIn: false,
          backing,
          onEnd,
        });
        setTrouble(null);
        return () => sounding.stop();
      } catch (error) {
        say(error);
        throw error;
      }
    },
    [reference, backing, say],
  );
  const soundNotes = useCallback(
    (pitches: readonly Hz[], length: Seconds) => {
      reeds.soundNotes(pitches, length).then(() => setTrouble(null), say);
    },
    [reeds, say],
  );
  return { hear, soundNotes, trouble };
}
