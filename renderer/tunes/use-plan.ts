import { useEffect, useState } from "react";
import type { TunePlan, TunePlanSetting } from "../../core/exercise/tune-plan.ts";
import type { TuneWork } from "./tune-work.ts";

interface Planned {
  readonly plan: TunePlan | null;
  readonly trouble: string | null;
}

/** The plan of a setting, worked out off the window's thread; while it is, the one before stays. */
export function usePlan(work: TuneWork, setting: TunePlanSetting): Planned {
  const [planned, setPlanned] = useState<Planned>({ plan: null, trouble: null });
  useEffect(() => {
    const stop = new AbortController();
    work.plan(setting, stop.signal).then(
      (plan) => setPlanned({ plan, trouble: null }),
      (error: unknown) => {
        if (stop.signal.aborted) return;
        const words = error instanceof Error ? error.message : String(error);
        setPlanned((before) => ({ ...before, trouble: `The tune cannot be laid out: ${words}.` }));
      },
    );
    return () => stop.abort();
  }, [work, setting]);
  return planned;
}
