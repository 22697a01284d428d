import { useMemo } from "react";
import { backingOfTune } from "../../core/exercise/backing-of-tune.ts";
import type { TuneBackings } from "../drills/shelf.ts";
import type { TuneWork } from "../tunes/tune-work.ts";
import type { useTunes } from "./use-tunes.ts";

const NONE: TuneBackings["tunes"] = [];

/** The player's tunes as drills ask for them: by title, each with the backing its chord symbols ask for. */
export function useTuneBackings(
  { list, open }: Pick<ReturnType<typeof useTunes>, "list" | "open">,
  work: Pick<TuneWork, "read">,
): TuneBackings {
  return useMemo(
    () => ({
      tunes: list.kind === "tunes" ? list.tunes.map(({ id, title }) => ({ id, title })) : NONE,
      of: async (id) => {
        const kept = await open(id);
        if (kept === null) return { kind: "none", reason: "the tune is no longer there" };
        const [read] = (await work.read(kept.abc)).tunes;
        return read === undefined
          ? { kind: "none", reason: `${kept.title} cannot be read` }
          : backingOfTune(read.tune);
      },
    }),
    [list, open, work],
  );
}
