import { type ChildProcess, spawn } from "node:child_process";
import path from "node:path";
import { PROJECT_ROOT } from "../../electron/build.mjs";

/** A program as a player would run it, with what it printed so far. */
export interface Running {
  readonly child: ChildProcess;
  readonly stdout: () => string;
  readonly stderr: () => string;
  /** Resolves with the exit code, null when a signal ended it. */
  readonly ended: Promise<number | null>;
  /** Resolves when standard output matches; rejects when the program ends first. */
  waitFor(pattern: RegExp): Promise<void>;
}

/** The environment of a machine without a display, without traces of the test runner. */
export function plainEnvironment(extra: Record<string, string> = {}): Record<string, string> {
  const env: Record<string, string> = { PATH: process.env.PATH ?? "", HOME: process.env.HOME ?? "" };
  return { ...env, ...extra };
}

/** Runs a script with this Node. */
export function runScript(
  script: string,
  args: readonly string[],
  options: { readonly cwd: string; readonly env?: Record<string, string> },
): Running {
  const child = spawn(process.execPath, [script, ...args], {
    cwd: options.cwd,
    env: options.env ?? plainEnvironment(),
    stdio: ["ignore", "pipe", "pipe"],
  });
  let stdout = "";
  let stderr = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    stdout += text;
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    stderr += text;
  });
  const ended = new Promise<number | null>((resolve) => child.on("close", resolve));
  return {
    child,
    ended,
    stdout: () => stdout,
    stderr: () => stderr,
    waitFor: (pattern) =>
      new Promise((resolve, reject) => {
        const look = () => pattern.test(stdout) && resolve();
        child.stdout.on("data", look);
        look();
        void ended.then(() => reject(new Error(`ended before ${pattern}: ${stdout}${stderr}`)));
      }),
  };
}

/** The built headless command as a program of its own, as a player would run it, standing in a folder. */
export const reedpathIn =
  (folder: () => string) =>
  async (...args: readonly string[]) => {
    const options = { cwd: folder(), env: plainEnvironment() };
    const running = runScript(path.join(PROJECT_ROOT, "electron", "reedpath.mjs"), args, options);
    return { status: await running.ended, stdout: running.stdout(), stderr: running.stderr() };
  };
