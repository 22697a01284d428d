import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import { harpKeyOf } from "../../core/progress/counts/likeness.ts";
import type { LaidTune } from "../../core/progress/repertoire/repertoire-lay.ts";
import type { SetList, SetTune } from "../../core/progress/repertoire/repertoire-set-list.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import type { GlanceWorld } from "./glance-shape.ts";
import type { TuneWork } from "./tune-work.ts";

export interface LaidSource {
  readonly work: TuneWork;
  readonly world: GlanceWorld;
  readonly studies: ReadonlyMap<string, TuneStudy>;
  /** Text of a tune; null where it is no longer there. */
  readonly onText: (id: string) => Promise<string | null>;
}

export interface LaidTunes {
  /** Undefined while it is not known, null where the tune is no longer there. */
  readonly laidOf: (tune: SetTune) => LaidTune | null | undefined;
  readonly done: number;
  readonly of: number;
  readonly isStopped: boolean;
  readonly trouble: string | null;
  readonly stop: () => void;
  readonly goOn: () => void;
}

/** How the tunes of a set list lie on the harps, worked out in a worker, each once. */
export function useLaid(list: SetList, { work, world, studies, onText }: LaidSource): LaidTunes {
  const known = useRef<{ world: GlanceWorld; laid: Map<string, LaidTune | null> }>({
    world,
    laid: new Map(),
  });
  const [told, setTold] = useState(0);
  const [isStopped, setStopped] = useState(false);
  const [trouble, setTrouble] = useState<string | null>(null);
  const running = useRef<AbortController | null>(null);
  if (known.current.world !== world) known.current = { world, laid: new Map() };
  const tunes = useMemo(() => list.sets.flatMap((set) => set.tunes), [list]);
  useEffect(() => {
    // The same tune may stand in the list twice.
    const unknown = new Map(
      tunes
        .map((tune) => [keyOf(tune, studies.get(tune.tuneId)), tune] as const)
        .filter(([key]) => !known.current.laid.has(key)),
    );
    if (unknown.size === 0 || isStopped) return;
    const stop = new AbortController();
    running.current = stop;
    const tell = (key: string, laid: LaidTune | null) => {
      known.current.laid.set(key, laid);
      setTold((count) => count + 1);
    };
    const workOut = async () => {
      const asks = [];
      for (const [key, { tuneId, harp }] of unknown) {
        const abc = await onText(tuneId);
        if (abc === null) tell(key, null);
        else asks.push({ key, abc, study: studies.get(tuneId) ?? null, harp: harp ?? null });
      }
      if (!stop.signal.aborted) await work.lay(asks, world, tell, stop.signal);
      setTrouble(null);
    };
    workOut().catch((error: unknown) => {
      if (!stop.signal.aborted) setTrouble(error instanceof Error ? error.message : String(error));
    });
    return () => stop.abort();
  }, [tunes, studies, world, work, onText, isStopped]);
  const laidOf = useCallback(
    (tune: SetTune) => {
      // Counted only so that the answers told since are looked at.
      void told;
      return known.current.laid.get(keyOf(tune, studies.get(tune.tuneId)));
    },
    [studies, told],
  );
  return {
    laidOf,
    done: tunes.filter((tune) => laidOf(tune) !== undefined).length,
    of: tunes.length,
    isStopped,
    trouble,
    stop: () => {
      running.current?.abort();
      setStopped(true);
    },
    goOn: () => setStopped(false),
  };
}

/** What the answer depends on: the tune, the harp of the evening, and what was set for the tune. */
function keyOf({ tuneId, harp }: SetTune, study: TuneStudy | undefined): string {
  const { harp: learned, octaves, danceBpm, voice } = study ?? {};
  const own = learned === undefined ? "" : harpKeyOf(learned);
  return [tuneId, harp === undefined ? "" : harpKeyOf(harp), own, octaves, danceBpm, voice].join(" | ");
}
