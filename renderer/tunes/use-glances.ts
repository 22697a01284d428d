import { useEffect, useMemo, useState } from "react";
import type { ListedTune, TuneStudy } from "../store/tune-store.ts";
import type { GlanceWorld, TuneGlance } from "./glance-shape.ts";
import type { TuneWork } from "./tune-work.ts";

/** More are not remembered; the first ones go first. */
const MOST_KNOWN = 5000;
/** Rows scrolled through are not worked out. */
const WAIT_MS = 150;

/** What was worked out of tunes, as long as harps, abilities and rules are the same. */
export class GlanceShelf {
  private world: GlanceWorld | null = null;
  private readonly known = new Map<string, TuneGlance | null>();

  /** Undefined where it was not worked out yet, null where the tune cannot be read. */
  find(key: string, world: GlanceWorld): TuneGlance | null | undefined {
    return world === this.world ? this.known.get(key) : undefined;
  }

  keep(key: string, world: GlanceWorld, glance: TuneGlance | null): void {
    if (world !== this.world) this.known.clear();
    this.world = world;
    this.known.set(key, glance);
    const [oldest] = this.known.keys();
    if (this.known.size > MOST_KNOWN && oldest !== undefined) this.known.delete(oldest);
  }
}

interface GlanceSource {
  readonly shelf: GlanceShelf;
  readonly work: TuneWork;
  readonly world: GlanceWorld;
  readonly studies: ReadonlyMap<string, TuneStudy>;
  /** Text of a tune; null where it is no longer there. */
  readonly onText: (id: string) => Promise<string | null>;
}

/** What is known of tunes in sight; what is not is worked out in a worker, those alone, once scrolling rests. */
export function useGlances(
  tunes: readonly ListedTune[],
  { shelf, work, world, studies, onText }: GlanceSource,
): (tune: ListedTune) => TuneGlance | null | undefined {
  const [told, setTold] = useState(0);
  const rows = tunes.map(({ id }) => id).join(" ");
  const wanted = useMemo(
    () =>
      rows
        .split(" ")
        .filter((id) => id !== "")
        .map((id) => ({ id, study: studies.get(id) ?? { id }, key: keyOf(id, studies.get(id)) })),
    [rows, studies],
  );
  useEffect(() => {
    const asked = wanted.filter(({ key }) => shelf.find(key, world) === undefined);
    if (asked.length === 0) return;
    const stop = new AbortController();
    const timer = setTimeout(() => {
      void workOut().catch(() => {
        // Stopped, or a worker that failed: the rows keep their placeholder and are asked for again when next in sight.
      });
    }, WAIT_MS);
    const workOut = async () => {
      const texts = await Promise.all(asked.map(({ id }) => onText(id)));
      const asks = asked.flatMap(({ id, study }, n) => {
        const abc = texts[n] ?? null;
        return abc === null ? [] : [{ id, abc, study }];
      });
      const keys = new Map(asked.map(({ id, key }) => [id, key]));
      const tell = (id: string, glance: TuneGlance | null) => {
        shelf.keep(keys.get(id) ?? id, world, glance);
        setTold((count) => count + 1);
      };
      if (!stop.signal.aborted) await work.glances(asks, world, tell, stop.signal);
    };
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [wanted, shelf, world, work, onText]);
  return useMemo(() => {
    // Counted only so that the answers told since are looked at.
    void told;
    return (tune) => shelf.find(keyOf(tune.id, studies.get(tune.id)), world);
  }, [told, shelf, world, studies]);
}

/** What a study says of how a tune is laid; what was heard and how it stands changes nothing of it. */
function keyOf(id: string, study: TuneStudy | undefined): string {
  if (study === undefined) return id;
  const { heard: _, status: __, ...rest } = study;
  return JSON.stringify(rest);
}
