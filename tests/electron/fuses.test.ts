import { describe, expect, test } from "vitest";
import { FuseV1Options, fuseNames, fusesInWords, fusesOfConfig, optionOf, WANTED } from "./fuses.ts";

describe("the fuses", () => {
  test.each(fuseNames())("%s is set in the configuration as it has to be", (name) => {
    expect(fusesOfConfig()[optionOf(name)]).toBe(WANTED[name]);
  });

  test("there are eight, and a new one of the package would be missed here", () => {
    // [F] @electron/fuses 1.8.0, dist/config.d.ts: FuseV1Options 0 to 7.
    expect(fuseNames().map((name) => FuseV1Options[name])).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
    const { runAsNode: _, ...others } = fusesOfConfig();
    expect(fusesInWords(others)).toEqual(["RunAsNode: is undefined, has to be false"]);
    expect(fusesInWords({ ...fusesOfConfig(), onlyLoadAppFromAsar: false, newOne: true })).toEqual([
      "OnlyLoadAppFromAsar: is false, has to be true",
      "newOne: no such fuse",
    ]);
  });
});
