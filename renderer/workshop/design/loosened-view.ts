import { tab } from "../../../core/instrument/tab.ts";
import { semitones } from "../../../core/units.ts";
import { orderOf } from "../../../core/workshop/design/limits.ts";
import type { DesignWish } from "../../../core/workshop/design/wish.ts";
import { chordText, type DesignView } from "./design-view.ts";

/** The form with what a loosened wish gave up taken out: everything else stays as it was chosen. */
export function loosenedView(view: DesignView, { harp, limits, scales, mustHave }: DesignWish): DesignView {
  const plain = { technique: "plain", bentSemitones: semitones(0) } as const;
  const stays = limits.reeds.map(({ hole, breath }) => tab({ hole, breath, ...plain }));
  const bends = limits.bends.map((bend) =>
    tab({ ...bend, technique: "bend", bentSemitones: semitones(bend.bentSemitones) }),
  );
  const chords = limits.chords.map(chordText);
  return {
    ...view,
    scales: view.scales.map((row, place) => {
      const scale = scales[place];
      return scale === undefined ? row : { ...row, low: scale.low, high: scale.high };
    }),
    mostSemitones: limits.mostSemitones,
    mostChanged: limits.mostChanged,
    freeHoles:
      view.order === "free"
        ? []
        : harp.layout.holes.flatMap((_, index) => (orderOf(limits, index + 1) === "free" ? [index + 1] : [])),
    stays: view.stays.filter((one) => stays.includes(one)),
    chords: view.chords.filter((one) => chords.includes(one)),
    bends: view.bends.filter((one) => bends.includes(one)),
    triads: view.triads.filter((one) => mustHave.includes(one)),
  };
}
