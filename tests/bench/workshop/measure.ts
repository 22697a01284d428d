import { guidedWalks } from "./measure/guided-walks.ts";
import { recordedReeds } from "./measure/recorded-reeds.ts";
import { syntheticReeds } from "./measure/synthetic-reeds.ts";
import { recordedPairs, syntheticPairs } from "./measure/together.ts";
import { recordedWalks } from "./measure/walks.ts";
import type { BenchSection } from "./section.ts";

/** How near measured reeds lie to what they are, alone and two at once; and whether recorded walks are told. */
export const MEASURE: BenchSection = {
  name: "measure",
  run: ({ seeds }) => {
    const own = seeds ?? [1];
    const [first = 1] = own;
    return [
      ...syntheticReeds(own),
      ...recordedReeds(first),
      ...guidedWalks(own),
      ...recordedWalks(own),
      ...syntheticPairs(own),
      ...recordedPairs(first),
    ];
  },
};
