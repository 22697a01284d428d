import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { cruise, type ICruiseResult, type IFlattenedRuleSet } from "dependency-cruiser";
import extractTsConfig from "dependency-cruiser/config-utl/extract-ts-config";
import { describe, expect, test } from "vitest";

const { forbidden } = createRequire(import.meta.url)("./rooms.cjs") as Required<
  Pick<IFlattenedRuleSet, "forbidden">
>;

async function violations(folders: readonly string[]): Promise<{ seen: number; found: string[] }> {
  const result = await cruise(
    [...folders],
    {
      ruleSet: { forbidden },
      validate: true,
      tsPreCompilationDeps: true,
      doNotFollow: { path: "node_modules" },
      enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "node", "default"] },
      exclude: { path: "[.]d[.]m?ts$" },
    },
    { extensions: [".ts", ".tsx", ".mjs", ".js"] },
    { tsConfig: extractTsConfig("tsconfig.json") },
  );
  const { summary } = result.output as ICruiseResult;
  return {
    seen: summary.totalCruised,
    found: summary.violations.map((one) => `${one.rule.name}: ${one.from} -> ${one.to}`),
  };
}

describe("rooms", () => {
  test("imports run one way: renderer and electron to core, each core room only to those below it", async () => {
    const folders = ["core", "renderer", "electron"].filter((folder) => existsSync(folder));
    const { seen, found } = await violations(folders);
    // Beside some compilers the checker reads no file at all and reports success: first assert that it saw the tree.
    expect(seen).toBeGreaterThan(60);
    expect(found).toEqual([]);
  });

  test("the check is awake: two files that import each other are caught", async () => {
    const { found } = await violations(["tests/architecture/bad-example"]);
    expect(found.join("\n")).toMatch(/no-cycles: .*one\.ts/);
  });
});
