import { useCallback, useEffect, useRef, useState } from "react";
import type { DesignAnswer, DesignAsk } from "./design-messages.ts";
import type { DesignProgress, DesignWork } from "./design-work.ts";

/** How a design stands. */
export type DesignState =
  | { readonly kind: "not asked" }
  | { readonly kind: "busy"; readonly progress: DesignProgress }
  | { readonly kind: "stopped" }
  | { readonly kind: "trouble"; readonly words: string }
  | { readonly kind: "answered"; readonly ask: DesignAsk; readonly answer: DesignAnswer };

/** One design at a time: asking anew ends the one before, and so does leaving. */
export function useDesign(work: DesignWork) {
  const [state, setState] = useState<DesignState>({ kind: "not asked" });
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);
  const ask = useCallback(
    async (askOf: () => Promise<DesignAsk>) => {
      running.current?.abort();
      const stop = new AbortController();
      running.current = stop;
      const settle = (next: DesignState) => {
        if (running.current === stop) setState(next);
      };
      settle({ kind: "busy", progress: { share: 0, best: null } });
      try {
        const asked = await askOf();
        const answer = await work(asked, (progress) => settle({ kind: "busy", progress }), stop.signal);
        settle({ kind: "answered", ask: asked, answer });
      } catch (error) {
        if (stop.signal.aborted) settle({ kind: "stopped" });
        else settle({ kind: "trouble", words: error instanceof Error ? error.message : String(error) });
      }
    },
    [work],
  );
  return { state, ask, stop: useCallback(() => running.current?.abort(), []) };
}
