import { cp, mkdir, mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { PROJECT_ROOT } from "../../electron/build.mjs";

const PAGE = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Copy</title></head>
<body><script type="module" src="./app/main.ts"></script></body></html>
`;

/** As the real window does it: a worklet and a worker, which the content policy wants as files of their own. */
const SCRIPTS: Readonly<Record<string, string>> = {
  "main.ts": `
    import tapUrl from "./tap.worklet.ts?worker&url";
    import Analyse from "./analyse.worker.ts?worker";
    Object.assign(globalThis, { tapUrl, startWorker: () => new Analyse() });
    document.title = "Started";`,
  "tap.worklet.ts":
    "class Tap extends AudioWorkletProcessor { process() { return true; } } registerProcessor('tap', Tap);",
  "analyse.worker.ts": "postMessage('ready');",
};

/** A headless command that says what it was asked and writes as much as it is asked to. */
const HEADLESS = `
interface Io { stdout(text: string): void; stderr(text: string): void }
export async function run(argv: string[], io: Io): Promise<number> {
  if (argv[0] === "fail") throw new Error("the recording is empty");
  if (argv[0] === "where") io.stdout(process.cwd());
  if (argv[0] === "long") io.stdout("x".repeat(Number(argv[1])) + "end");
  if (argv[0] === "lines") for (let i = 0; i < Number(argv[1]); i++) io.stdout(i + "\\n");
  io.stderr("asked: " + argv.join(" "));
  return Number(argv[2] ?? 0);
}
`;

/** A project of its own, so that building in a test never touches what someone is using. */
export interface ProjectCopy {
  readonly root: string;
  remove(): Promise<void>;
}

/**
 * Copies the shell and gives it a page and a headless command of a few lines, so that these tests are about the shell.
 * Packages are shared with the real project.
 */
export async function copyShell(): Promise<ProjectCopy> {
  const root = await mkdtemp(path.join(os.tmpdir(), "reedpath-project-"));
  for (const name of ["package.json", "vite.config.ts", "tsconfig.json", "electron", "core"]) {
    await cp(path.join(PROJECT_ROOT, name), path.join(root, name), { recursive: true });
  }
  await symlink(path.join(PROJECT_ROOT, "node_modules"), path.join(root, "node_modules"), "junction");
  await mkdir(path.join(root, "renderer", "app"), { recursive: true });
  await writeFile(path.join(root, "renderer", "index.html"), PAGE);
  for (const [name, text] of Object.entries(SCRIPTS)) {
    await writeFile(path.join(root, "renderer", "app", name), text);
  }
  await writeFile(path.join(root, "electron", "headless.ts"), HEADLESS);
  return { root, remove: () => rm(root, { recursive: true, force: true, maxRetries: 3 }) };
}
