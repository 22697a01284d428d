import { readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { PROJECT_ROOT } from "../../electron/build.mjs";

const read = (file: string) => readFileSync(path.join(PROJECT_ROOT, file), "utf8");
const TEXT = read(".github/workflows/release.yml");
const workflow = parse(TEXT);

interface Step {
  readonly uses?: string;
  readonly run?: string;
  readonly if?: string;
  readonly with?: Readonly<Record<string, unknown>>;
}
const job = workflow.jobs.pack;
const steps: readonly Step[] = job.steps;
const runs = steps.flatMap(({ run }) => run ?? []);

describe("the workflow that packs a release", () => {
  test("runs for tags of a release and for nothing else", () => {
    expect(workflow.on).toEqual({ push: { tags: ["v*"] } });
    expect(Object.keys(workflow.jobs)).toEqual(["pack"]);
  });

  test("may read the sources and nothing more, and keeps no key", () => {
    expect(workflow.permissions).toEqual({ contents: "read" });
    expect(job).not.toHaveProperty("permissions");
    expect(TEXT).not.toMatch(/secrets\.|GITHUB_TOKEN|GH_TOKEN/);
    const checkout = steps.find(({ uses }) => uses?.startsWith("actions/checkout@"));
    expect(checkout?.with).toEqual({ "persist-credentials": false });
  });

  test("takes every action at one commit, with the version that is", () => {
    const used = steps.flatMap(({ uses }) => uses ?? []);
    expect(used.length).toBe(3);
    for (const one of used) expect(one).toMatch(/^actions\/[a-z-]+@[0-9a-f]{40}$/);
    for (const line of TEXT.split("\n").filter((one) => one.includes("uses:")))
      expect(line).toMatch(/@[0-9a-f]{40} # v\d+\.\d+\.\d+$/);
  });

  test("packs on all three systems, each named by its version", () => {
    const { os } = job.strategy.matrix;
    expect(os.map((name: string) => name.split("-")[0])).toEqual(["ubuntu", "macos", "windows"]);
    for (const name of os) expect(name).toMatch(/-\d/);
    expect(job["runs-on"]).toMatch(/^\$\{\{ matrix\.os \}\}$/);
    expect(job.strategy["fail-fast"]).toBe(false);
  });

  test("runs only scripts that package.json has, and the tests before it packs", () => {
    const { scripts } = JSON.parse(read("package.json"));
    const named = runs.flatMap((run) => /npm run ([\w:]+)/.exec(run)?.[1] ?? []);
    expect(named).toEqual(["typecheck", "lint", "build", "test:smoke", "test:smoke", "dist"]);
    for (const name of named) expect(scripts, name).toHaveProperty([name]);
    expect(runs.slice(0, 2)).toEqual(["git config --global core.autocrlf false", "npm ci"]);
    // The smoke test is skipped without Electron's program, which its package fetches when it is told to.
    expect(runs[2]).toBe("npx --no install-electron");
    const { bin } = JSON.parse(read("node_modules/electron/package.json"));
    expect(bin).toHaveProperty("install-electron");
  });

  test("the smoke test runs on every system exactly once, on Linux with a display", () => {
    const smoke = steps.filter(({ run }) => run?.includes("test:smoke"));
    expect(smoke.map((step) => [step.if, step.run?.startsWith("xvfb-run")])).toEqual([
      ["runner.os != 'Linux'", false],
      ["runner.os == 'Linux'", true],
    ]);
    expect(JSON.parse(read("package.json")).scripts["test:smoke"]).toContain("tests/electron/smoke.test.ts");
    // Elsewhere it is skipped where Electron's program is missing; here that is a failure.
    expect(job.env.REEDPATH_SMOKE).toBe("must");
    expect(read("tests/electron/smoke.test.ts")).toContain('process.env.REEDPATH_SMOKE === "must"');
  });

  test("keeps what the packing tool makes of each system, and publishes nothing", () => {
    const upload = steps.at(-1);
    const kept = String(upload?.with?.path).trim().split("\n");
    expect(kept).toEqual(["dist/*.dmg", "dist/*.exe", "dist/*.AppImage", "dist/*.deb"]);
    expect(upload?.with?.["if-no-files-found"]).toBe("error");
    expect(JSON.parse(read("package.json")).scripts.dist).toMatch(/--publish never$/);
  });
});
