// @ts-check
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { provideTools } from "./debian-tools.mjs";

/**
 * Everything that checks the project, in order: lint, types, build, then every test. Ends with the counts on a line
 * of their own; exit status 1 if anything failed.
 */

const say = (/** @type {string} */ line) => console.log(line);
const began = Date.now();

/**
 * @param {string} name
 * @param {string[]} command
 * @returns {boolean} whether it succeeded
 */
function step(name, command) {
  const [program = "", ...args] = command;
  const start = Date.now();
  const { status } = spawnSync(program, args, { stdio: "inherit" });
  say(`${name}: ${status === 0 ? "ok" : "FAILED"}, ${((Date.now() - start) / 1000).toFixed(1)} s`);
  return status === 0;
}

/** @param {string} name */
const bin = (name) => path.join("node_modules", ".bin", name);

provideTools(say);
const checks = [
  step("lint", [bin("biome"), "check", "."]),
  step("types", [bin("tsc"), "-p", "."]),
  step("types of core without DOM and Node", [bin("tsc"), "-p", "core"]),
  step("build", [process.execPath, "electron/build.mjs"]),
];

const folder = mkdtempSync(path.join(tmpdir(), "reedpath-tests-"));
const report = path.join(folder, "report.json");
step("tests", [bin("vitest"), "run", "--reporter=default", "--reporter=json", `--outputFile.json=${report}`]);
const counts = readCounts(report);
rmSync(folder, { recursive: true });

const failed = counts.failed + checks.filter((ok) => !ok).length;
say(`total ${((Date.now() - began) / 1000).toFixed(0)} s`);
say(`${counts.passed} passed, ${failed} failed, ${counts.skipped} skipped`);
process.exitCode = failed > 0 || counts.passed === 0 ? 1 : 0;

/**
 * @param {string} file vitest's JSON report
 * @returns {{ passed: number, failed: number, skipped: number }}
 */
function readCounts(file) {
  try {
    const { numPassedTests, numFailedTests, numPendingTests, numTodoTests, success, testResults } =
      JSON.parse(readFileSync(file, "utf8"));
    // A file that breaks before its first test counts as a failure of its own.
    const broken = testResults.filter(
      (/** @type {{ status: string, assertionResults: unknown[] }} */ one) =>
        one.status === "failed" && one.assertionResults.length === 0,
    ).length;
    const fails = numFailedTests + broken;
    return {
      passed: numPassedTests,
      failed: !success && fails === 0 ? 1 : fails,
      skipped: numPendingTests + numTodoTests,
    };
  } catch {
    return { passed: 0, failed: 1, skipped: 0 };
  }
}
