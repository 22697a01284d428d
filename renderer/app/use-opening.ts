import { useCallback, useRef, useState } from "react";
import { sentence } from "./use-history.ts";

/** What is being opened, in words, and what went wrong last. Of several the latest counts. */
export function useOpening() {
  const [words, setWords] = useState<string | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const latest = useRef(0);
  const opening = useCallback(async (what: string, work: () => Promise<void>) => {
    const mine = ++latest.current;
    setWords(what);
    setTrouble(null);
    try {
      await work();
    } catch (error) {
      setTrouble(sentence(error));
    } finally {
      if (mine === latest.current) setWords(null);
    }
  }, []);
  return { words, trouble, opening };
}
