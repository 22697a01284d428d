import { type Semitones, semitones } from "../units.ts";
import {
  BREATHS,
  type Breath,
  HIGHEST_REED,
  type Hole,
  type Layout,
  LOWEST_REED,
  MOST_HOLES,
  reedsOf,
} from "./layout.ts";

/** A short name made of a free one: "My G tuning!" -> "my-g-tuning"; "layout" where no letter or figure is left. */
export function idOfName(name: string): string {
  const id = name
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 60)
    .replace(/-+$/, "");
  return id === "" ? "layout" : id;
}

/** The same layout under another name; its short name follows. */
export function renameLayout(layout: Layout, name: string): Layout {
  return { ...layout, id: idOfName(name), name };
}

/**
 * The layout with one reed changed, or taken out (null), its valve with it.
 *
 * @param sounds semitones above the key note, -24 to 60, or null
 * @throws RangeError for a hole the layout lacks, a note out of bounds or the last reed taken out: an editor offers none
 */
export function changeReed(layout: Layout, hole: number, breath: Breath, sounds: Semitones | null): Layout {
  if (sounds !== null && !(Number.isInteger(sounds) && sounds >= LOWEST_REED && sounds <= HIGHEST_REED)) {
    throw new RangeError(
      `hole ${hole}, ${breath}: a reed lies ${LOWEST_REED} to ${HIGHEST_REED}, not ${sounds}`,
    );
  }
  const without = sounds === null ? changeValve(layout, hole, breath, false) : layout;
  const changed = changeHole(without, hole, (one) => ({ ...one, [breath]: sounds }));
  if (reedsOf(changed).length === 0)
    throw new RangeError(`hole ${hole}, ${breath} is the layout's last reed`);
  return changed;
}

/** The layout with a reed's valve put on or taken off. */
export function changeValve(layout: Layout, hole: number, breath: Breath, valved: boolean): Layout {
  return changeHole(layout, hole, (one) => {
    const kept = BREATHS.filter((its) => (its === breath ? valved : (one.valved ?? []).includes(its)));
    const { blow, draw } = one;
    return kept.length === 0 ? { blow, draw } : { blow, draw, valved: kept };
  });
}

/** The layout with a hole more at the high end, at most 16: two reeds a whole tone apart just above the last, for the player to set. */
export function addHole(layout: Layout): Layout {
  if (layout.holes.length >= MOST_HOLES) return layout;
  const last = layout.holes.at(-1);
  const top = Math.min(Math.max(last?.blow ?? 0, last?.draw ?? 0) + 2, HIGHEST_REED - 2);
  return { ...layout, holes: [...layout.holes, { blow: semitones(top), draw: semitones(top + 2) }] };
}

/** The layout without its highest hole; a layout of one hole stays as it is. */
export function removeHole(layout: Layout): Layout {
  return layout.holes.length <= 1 ? layout : { ...layout, holes: layout.holes.slice(0, -1) };
}

/** The layout with positions counted from another note: semitones above the key note, 0 to 11. */
export function changePositionKey(layout: Layout, positionKey: Semitones): Layout {
  const { positionKey: _, ...rest } = layout;
  return positionKey === 0 ? rest : { ...rest, positionKey };
}

function changeHole(layout: Layout, hole: number, change: (hole: Hole) => Hole): Layout {
  if (layout.holes[hole - 1] === undefined) {
    throw new RangeError(`hole ${hole} is not one of the layout's ${layout.holes.length}`);
  }
  return { ...layout, holes: layout.holes.map((one, index) => (index === hole - 1 ? change(one) : one)) };
}
