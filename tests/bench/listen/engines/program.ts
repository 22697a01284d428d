import { execFile } from "node:child_process";

/** Five minutes of a slow engine's frames. */
const MOST_OUTPUT_BYTES = 2 ** 28;

/**
 * Standard output of a program.
 *
 * @throws Error with the program's name and the last line it complained with
 */
export function programOutput(
  program: string,
  args: readonly string[],
  env: NodeJS.ProcessEnv = process.env,
): Promise<string> {
  return new Promise((resolve, reject) => {
    const options = { encoding: "utf8", maxBuffer: MOST_OUTPUT_BYTES, env } as const;
    execFile(program, args, options, (error, stdout, stderr) => {
      if (error === null) resolve(stdout);
      else {
        const said = stderr.trim().split("\n").at(-1);
        reject(new Error(`${program}: ${said || `ended with status ${error.code ?? "unknown"}`}`));
      }
    });
  });
}
