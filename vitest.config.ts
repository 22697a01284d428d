import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

const node = { environment: "node" as const };

/** Tests of a browser's pages that hear nothing, or that have patience: they may run beside others. */
const PAGES = [
  "screens",
  "settings",
  "instrument*",
  "tune-*",
  "screenshots",
  "progress*",
  "recordings",
  "sheet",
  "kept-after-kill",
  "killed-practice",
  "cut-off-take",
  "storage-trouble",
  "plan-run",
  "sound-minded",
  "deleted-takes",
  "drills",
  "archive*",
  "set-list*",
  "today*",
  "history*",
  "workshop-*",
  "no-way-out",
  "given-files",
].map((name) => `tests/e2e/${name}.test.ts`);

/** What is measured of memory has the machine for itself. */
const MEMORY = "tests/core/listen/long-listening.test.ts";

/** One project a kind of test; `tests/run-tests.mjs` runs them all and prints the counts. */
export default defineConfig({
  test: {
    // By itself one processor is left idle, of two every second one.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    projects: [
      {
        test: {
          ...node,
          name: "core",
          // Pure functions leave nothing behind: they need not be read anew for each file.
          isolate: false,
          include: ["tests/core/**/*.test.ts", "tests/bench/**/*.test.ts"],
          exclude: [MEMORY],
          testTimeout: 60_000,
        },
      },
      {
        test: {
          ...node,
          name: "memory",
          include: [MEMORY],
          // A busy machine compiles late, and what it compiles counts as memory.
          fileParallelism: false,
          testTimeout: 60_000,
        },
      },
      {
        test: {
          ...node,
          name: "architecture",
          include: ["tests/architecture/**/*.test.ts"],
          testTimeout: 60_000,
        },
      },
      { test: { ...node, name: "electron", include: ["tests/electron/**/*.test.ts"], testTimeout: 120_000 } },
      {
        test: {
          name: "renderer",
          environment: "happy-dom",
          include: ["tests/renderer/**/*.test.{ts,tsx}"],
          testTimeout: 60_000,
        },
      },
      {
        test: {
          ...node,
          name: "outside",
          include: ["tests/outside/**/*.test.ts"],
          testTimeout: 180_000,
          hookTimeout: 180_000,
        },
      },
      {
        test: {
          ...node,
          name: "pages",
          isolate: false,
          include: PAGES,
          testTimeout: 180_000,
          hookTimeout: 180_000,
        },
      },
      {
        test: {
          ...node,
          name: "e2e",
          include: ["tests/e2e/**/*.test.ts"],
          exclude: PAGES,
          // What is heard and timed has the machine for itself.
          fileParallelism: false,
          testTimeout: 180_000,
          hookTimeout: 180_000,
        },
      },
    ],
  },
});
