import { run } from "../../electron/headless.ts";

/** Runs the headless command within the test's own process: what it printed, and how it ended. */
export async function within(...args: readonly string[]) {
  let stdout = "";
  let stderr = "";
  const status = await run(args, {
    stdout: (text) => {
      stdout += text;
    },
    stderr: (text) => {
      stderr += text;
    },
  });
  return { status, stdout, stderr };
}
