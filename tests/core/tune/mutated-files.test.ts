import { expect, test } from "vitest";
import { FILE_KINDS, soundFiles, tryMutated } from "../../support/mutated-tune-files.ts";

/** Of each kind; `npm run fuzz:tunes` tries more: the same seeds, and those after them. */
const INPUTS = 100;

const files = soundFiles();

test.each(FILE_KINDS)(
  `${INPUTS} mutated files of %s each give an answer or say what is wrong, and never stop the program`,
  (kind) => {
    let readable = 0;
    for (let seed = 0; seed < INPUTS; seed++) {
      const { kind: outcome, faults } = tryMutated(seed, kind, files);
      if (faults.length > 0) expect.fail(`seed ${seed}: ${faults.slice(0, 5).join("; ")}`);
      if (outcome === "tunes") readable++;
    }
    // The changes must leave some files readable and break others, or nothing was tried.
    expect(readable).toBeGreaterThan(INPUTS / 50);
    expect(readable).toBeLessThan(INPUTS);
  },
);
