import {
  BREAK_SECONDS,
  PAUSE_SECONDS,
  type SetList,
} from "../../core/progress/repertoire/repertoire-set-list.ts";
import type { ListedTune } from "../store/tune-store.ts";

/** What the village band plays at its autumn dance: made up, of tunes that come along. Times through by title. */
const SETS = [
  {
    name: "Jigs",
    tunes: {
      "The Lamp over the Hall Door": 3,
      "Haste to the Wedding": 3,
      "The Caretaker's Bunch of Keys": 3,
    },
  },
  {
    name: "Reels",
    tunes: { "Chairs Against the Wall": 3, "Miss McLeod's Reel": 3, "The Star of Munster": 3 },
  },
  {
    name: "Hornpipes",
    tunes: { "Twelve Pairs of Boots": 2, "Off to California": 2, "The Boys of Bluehill": 2 },
  },
  { name: "Slip jigs", tunes: { "The Wet Field Home": 3, "The Kid on the Mountain": 2 } },
  { name: "March and polka", tunes: { "Harvest Carts to the Green": 2, "The Kettle Behind the Stage": 4 } },
  { name: "Last waltz", tunes: { "Mist on the Mill Lane": 4 } },
] as const satisfies readonly { readonly name: string; readonly tunes: Readonly<Record<string, number>> }[];

/** Labelled as made up; tunes that are not there are left out. */
export function demoSetList(tunes: readonly ListedTune[], newId: () => string): SetList {
  return {
    id: newId(),
    name: "The village band's autumn dance",
    demo: true,
    sets: SETS.map((set) => ({
      id: newId(),
      name: set.name,
      pauseSeconds: PAUSE_SECONDS.usual,
      breakSeconds: BREAK_SECONDS.usual,
      tunes: Object.entries(set.tunes).flatMap(([title, times]) => {
        const tune = tunes.find((one) => one.title === title);
        return tune === undefined ? [] : [{ id: newId(), tuneId: tune.id, title, times }];
      }),
    })),
  };
}
