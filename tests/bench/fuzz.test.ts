import { execFile } from "node:child_process";
import path from "node:path";
import { promisify } from "node:util";
import { expect, test } from "vitest";

const ROOT = path.join(import.meta.dirname, "..", "..");
const INPUTS = 3000;
/** A quiet one needs a tenth of it. */
const A_BUSY_MACHINE_MS = 300_000;

interface Told {
  readonly found: number;
  readonly hangs: number;
  readonly writes: number;
  readonly readers: readonly {
    readonly reader: string;
    readonly inputs: number;
    readonly read: number;
    readonly refused: number;
    readonly commands: number;
  }[];
}

/** The seed of the long form whose first inputs these are: `npm run fuzz` tries those after them. */
test(
  `${INPUTS} inputs of chance to every reader of files: none throws, hangs, writes or refuses without a plain reason`,
  async () => {
    const node = promisify(execFile);
    await node(process.execPath, ["tests/bench/build.mjs", "fuzz"], { cwd: ROOT });
    const { stdout } = await node(
      process.execPath,
      ["out/bench/fuzz.js", "--inputs", String(INPUTS), "--keep", "out/fuzz-in-tests"],
      {
        cwd: ROOT,
      },
    );
    const { readers, ...told }: Told = JSON.parse(stdout);
    expect(told).toMatchObject({ found: 0, hangs: 0, writes: 0 });
    // Something was tried of every reader: what is read as well as what is refused.
    expect(readers.reduce((sum, { inputs }) => sum + inputs, 0)).toBe(INPUTS);
    expect(readers.filter(({ read, refused }) => read === 0 || refused === 0)).toEqual([]);
    expect(readers.reduce((sum, { commands }) => sum + commands, 0)).toBeGreaterThan(50);
  },
  A_BUSY_MACHINE_MS,
);
