import { useState } from "react";

interface Past {
  readonly before: readonly string[];
  readonly now: string;
  readonly after: readonly string[];
}

/** Steps kept: more than anyone goes back. */
const MOST_STEPS = 500;

/** A text that can be taken back step by step. */
export function useUndo(first: string) {
  const [past, setPast] = useState<Past>({ before: [], now: first, after: [] });
  return {
    text: past.now,
    write: (now: string) =>
      setPast(({ before, now: last }) => ({ before: [...before, last].slice(-MOST_STEPS), now, after: [] })),
    undo: () =>
      setPast((here) => {
        const now = here.before.at(-1);
        return now === undefined
          ? here
          : { before: here.before.slice(0, -1), now, after: [here.now, ...here.after] };
      }),
    redo: () =>
      setPast((here) => {
        const [now, ...after] = here.after;
        return now === undefined ? here : { before: [...here.before, here.now], now, after };
      }),
    canUndo: past.before.length > 0,
    canRedo: past.after.length > 0,
  };
}
