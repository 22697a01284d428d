import { useCallback, useEffect, useMemo, useState } from "react";
import type { LadderRule } from "../../core/exercise/tune-ladder.ts";
import type { TuneStanding, TuneTry } from "../../core/progress/repertoire/repertoire-status.ts";
import type { HistoryStore } from "../store/history-store.ts";
import type { ListedTune, TuneStore, TuneStudy } from "../store/tune-store.ts";
import { type Repertoire, type StatusFilter, standingOf, type TuneOrder } from "../tunes/repertoire-view.ts";
import { GlanceShelf } from "../tunes/use-glances.ts";
import { sentence } from "./use-history.ts";

interface RepertoireWorld {
  readonly tunes: TuneStore;
  readonly history: HistoryStore;
  readonly nowEpochMs: () => number;
}

/** Which tunes of the list are shown, and in what order. */
export interface ListView {
  readonly filter: StatusFilter;
  readonly order: TuneOrder;
}

interface Known {
  readonly studies: ReadonlyMap<string, TuneStudy>;
  readonly tries: ReadonlyMap<string, readonly TuneTry[]>;
  readonly nowEpochMs: number;
}

/**
 * Where all tunes stand, and what was worked out of them.
 *
 * @param visit names the room for tunes that is open, null for none: everything is read anew as one is entered
 */
export function useRepertoire(world: RepertoireWorld, rule: LadderRule, visit: string | null) {
  const [known, setKnown] = useState<Known>({ studies: new Map(), tries: new Map(), nowEpochMs: 0 });
  const [trouble, setTrouble] = useState<string | null>(null);
  const [view, setView] = useState<ListView>({ filter: "any", order: "title" });
  const [shelf] = useState(() => new GlanceShelf());
  const { tunes, history, nowEpochMs } = world;
  useEffect(() => {
    if (visit === null) return;
    let left = false;
    Promise.all([tunes.studies(), history.triesAtAll()]).then(
      ([studies, tries]) => {
        if (left) return;
        const byId = new Map(studies.map((study) => [study.id, study]));
        setKnown({ studies: byId, tries, nowEpochMs: nowEpochMs() });
        setTrouble(null);
      },
      (error: unknown) => setTrouble(sentence(error)),
    );
    return () => {
      left = true;
    };
  }, [tunes, history, nowEpochMs, visit]);
  const repertoire = useMemo<Repertoire>(() => ({ ...known, rule }), [known, rule]);
  const standing = useMemo(() => remembered((tune) => standingOf(tune, repertoire)), [repertoire]);
  const change = useCallback((part: Partial<ListView>) => setView((before) => ({ ...before, ...part })), []);
  return { repertoire, standing, shelf, trouble, view, onView: change };
}

/** Worked out once a tune. */
function remembered(of: (tune: ListedTune) => TuneStanding): (tune: ListedTune) => TuneStanding {
  const known = new WeakMap<ListedTune, TuneStanding>();
  return (tune) => {
    const found = known.get(tune) ?? of(tune);
    known.set(tune, found);
    return found;
  };
}
