import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";

/** What abc2midi 4.84 says of bars that do not add up, a line each. */
export function abc2midiBarWarnings(abc: string): readonly string[] {
  const folder = mkdtempSync(path.join(tmpdir(), "abc2midi-"));
  try {
    writeFileSync(path.join(folder, "tune.abc"), abc);
    const said = execFileSync("abc2midi", ["tune.abc"], { encoding: "utf8", cwd: folder });
    return said.split("\n").filter((line) => /time units|Warning/.test(line));
  } finally {
    rmSync(folder, { recursive: true });
  }
}
