// @ts-check
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";

/**
 * What the tests need besides npm's packages: how to see that it is there, and Debian's package that brings it.
 * Only tests use these programs; the product needs none of them.
 */
const TOOLS = [
  { name: "chromium", debianPackage: "chromium", use: "the window in a real browser" },
  { name: "fluidsynth", debianPackage: "fluidsynth", use: "takes of a recorded harmonica" },
  {
    name: "FluidR3 SoundFont",
    debianPackage: "fluid-soundfont-gm",
    use: "takes of a recorded harmonica",
    file: "/usr/share/sounds/sf2/FluidR3_GM.sf2",
  },
  { name: "abc2midi", debianPackage: "abcmidi", use: "a second reading of ABC" },
  { name: "praat", debianPackage: "praat", use: "a second measurement of pitch" },
  { name: "aubiopitch", debianPackage: "aubio-tools", use: "a third measurement of pitch" },
];

/** @param {string} command @param {string[]} args */
const run = (command, args) => spawnSync(command, args, { encoding: "utf8", maxBuffer: 1 << 26 });

/** @param {typeof TOOLS[number]} tool */
function isThere(tool) {
  return tool.file === undefined ? run("which", [tool.name]).status === 0 : existsSync(tool.file);
}

function isDebian() {
  try {
    return /^ID(_LIKE)?=.*debian/m.test(readFileSync("/etc/os-release", "utf8"));
  } catch {
    return false;
  }
}

/**
 * Installs what is missing where that can be done (Debian, as root); elsewhere says what is missing.
 *
 * @param {(line: string) => void} say
 * @returns {readonly string[]} names of what is still missing
 */
export function provideTools(say) {
  const missing = TOOLS.filter((tool) => !isThere(tool));
  if (missing.length === 0) return [];
  const packages = missing.map((tool) => tool.debianPackage);
  if (isDebian() && process.getuid?.() === 0) {
    say(`installing ${packages.join(", ")}`);
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    const apt = (/** @type {string[]} */ args) =>
      spawnSync("apt-get", args, { encoding: "utf8", env, maxBuffer: 1 << 26 });
    apt(["update", "-qq"]);
    const done = apt(["install", "-y", "-qq", "--no-install-recommends", ...packages]);
    if (done.status !== 0) say(`apt-get could not install them: ${lastLine(done.stderr)}`);
  }
  const still = TOOLS.filter((tool) => !isThere(tool));
  for (const tool of still) {
    say(
      `missing: ${tool.name}, for ${tool.use} (Debian package ${tool.debianPackage}); its tests are skipped`,
    );
  }
  return still.map((tool) => tool.name);
}

/** @param {string | null} text */
const lastLine = (text) => (text ?? "").trim().split("\n").at(-1) ?? "";
