import { useMemo } from "react";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import type { DrillChoice } from "../drills/drill-choice.ts";
import { exerciseOfChoice } from "../drills/exercise-of-choice.ts";
import type { Shelf } from "../drills/shelf.ts";
import { abilitiesOf } from "../drills/spec-of-choice.ts";
import type { Settings } from "../store/settings-store.ts";
import { rulesOf } from "../tunes/tune-view.ts";
import type { useHarps } from "./use-harps.ts";
import { shelfOf, usualHarp } from "./usual-harp.ts";

/**
 * What follows from the player's settings and harps: what the drills are set to, which harps there are, what tunes are laid on.
 *
 * @param backings of tunes, where drills over them are chosen; null elsewhere
 */
export function useChosen(
  choice: DrillChoice,
  { a4Hz, ladder, pathWeights }: Pick<Settings, "a4Hz" | "ladder" | "pathWeights">,
  { list, layouts }: Pick<ReturnType<typeof useHarps>, "list" | "layouts">,
  backings: Shelf["backings"] | null,
) {
  const shelf = useMemo(
    () => ({ ...shelfOf(list, layouts), ...(backings ? { backings } : {}) }),
    [list, layouts, backings],
  );
  const drillHarp = useMemo(() => usualHarp(choice, a4Hz, shelf), [choice, a4Hz, shelf]);
  const ownedHarps = useMemo(() => shelf.harps.map(({ harp }) => harp), [shelf]);
  const tuneHarps = useMemo(
    () => (ownedHarps.length > 0 ? ownedHarps : harpsToTry({ layouts: [drillHarp.layout] })),
    [ownedHarps, drillHarp],
  );
  const exercise = useMemo(() => {
    const made = exerciseOfChoice(choice, a4Hz, shelf);
    return made.kind === "exercise" ? made.exercise : null;
  }, [choice, a4Hz, shelf]);
  const abilities = useMemo(() => abilitiesOf(choice), [choice]);
  const rules = useMemo(() => rulesOf({ ladder, pathWeights }), [ladder, pathWeights]);
  return {
    shelf,
    /** The harp the drills are set to. */
    drillHarp,
    ownedHarps,
    /** Those a tune may be laid on where none is chosen for it. */
    tuneHarps,
    /** The drill that is set; null where it makes none. */
    exercise,
    abilities,
    rules,
  };
}
