import { expect, test } from "vitest";
import { soundTexts, tryMutatedText } from "../../../support/mutated-tune-texts.ts";

/** `npm run fuzz:tunes` tries more: the same seeds, and those after them. */
const INPUTS = 300;

test(`${INPUTS} mutated texts each give an answer or say what is wrong, and never stop the program`, () => {
  const texts = soundTexts();
  let tunes = 0;
  let bad = 0;
  for (let seed = 0; seed < INPUTS; seed++) {
    const tried = tryMutatedText(seed, texts);
    if (tried.faults.length > 0) expect.fail(`seed ${seed}: ${tried.faults.slice(0, 5).join("; ")}`);
    tunes += tried.tunes;
    bad += tried.bad;
  }
  // The changes must leave some tunes readable and break others, or nothing was tried.
  expect(tunes).toBeGreaterThan(INPUTS / 3);
  expect(bad).toBeGreaterThan(INPUTS / 30);
});
