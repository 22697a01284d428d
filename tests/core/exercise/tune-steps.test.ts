import { expect, test } from "vitest";
import traditional from "../../../assets/tunes/traditional.abc?raw";
import band from "../../../assets/tunes/village-band.abc?raw";
import { USUAL_RULE } from "../../../core/exercise/tune-ladder.ts";
import { planTune } from "../../../core/exercise/tune-plan.ts";
import { tuneSteps } from "../../../core/exercise/tune-steps.ts";
import { danceTempoOf, studySetting } from "../../../core/exercise/tune-study.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { readText } from "../../../renderer/tunes/read-text.ts";
import { harp } from "../../support/harps.ts";

const world = {
  harps: [harp("G"), harp("D")],
  abilities: PLAIN_AND_BENDS,
  rules: { ladder: USUAL_RULE, weights: FIRST_WEIGHTS },
};
const TUNES = [traditional, band].flatMap((text) => readText(text).tunes.map(({ tune }) => tune));
/** Every fifth: laying all of them takes long. */
const SOME = TUNES.filter((_, place) => place % 5 === 0);

test("the steps of a tune are those of the tune laid under the breath, whatever was set for it", () => {
  expect(SOME.length).toBeGreaterThan(7);
  const bent = new Set<number>();
  for (const tune of SOME) {
    for (const study of [{}, { phraseBars: 2, danceBpm: 70, harp: harp("A") }]) {
      const setting = studySetting(tune, study, world);
      const { ladder, path } = planTune(setting);
      const fit = {
        missing: path.missing.length,
        // [calc] every action that is not the plain reed, counted one by one
        bent: path.actions.reduce(
          (sum, action) => sum + (action === null || action.technique === "plain" ? 0 : 1),
          0,
        ),
      };
      const dance = danceTempoOf(tune, study);
      expect(tuneSteps(setting, true)).toEqual({ ladder, dance, fit });
      expect(tuneSteps(setting, false)).toEqual({ ladder, dance, fit: null });
      bent.add(fit.bent);
    }
  }
  expect(bent.size).toBeGreaterThan(2);
});
