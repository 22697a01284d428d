import { readdir, readFile, rm, stat, utimes, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { isStale, MODES, type Mode } from "../../electron/build.mjs";
import { copyShell, type ProjectCopy } from "./project-copy.ts";
import { type Running, runScript } from "./run-program.ts";

let project: ProjectCopy;
const at = (...parts: string[]) => path.join(project.root, ...parts);
/** From a folder elsewhere, as the launchers may be started. */
const build = () => runScript(at("electron", "build.mjs"), [], { cwd: os.tmpdir() });
const staleModes = async () => {
  const stale = await Promise.all(MODES.map((mode) => isStale(mode, project.root)));
  return MODES.filter((_mode, index) => stale[index]);
};

/** Gives a source a time after the build without waiting for the clock. */
async function touch(file: string): Promise<void> {
  const later = new Date(Date.now() + 60_000);
  await utimes(file, later, later);
}

async function everyOutput(): Promise<string[]> {
  const names = await readdir(at("out"), { recursive: true, withFileTypes: true });
  return names.filter((entry) => entry.isFile()).map((entry) => path.join(entry.parentPath, entry.name));
}

beforeAll(async () => {
  project = await copyShell();
});
afterAll(() => project.remove());

describe.sequential("building", () => {
  test("before the first build every part is stale", async () => {
    expect(await staleModes()).toEqual(["main", "preload", "launch", "headless", "renderer"]);
  });

  test("one line a part with its time, and then nothing is stale", async () => {
    const running = build();
    expect([await running.ended, running.stderr()]).toEqual([0, ""]);
    const lines = running.stdout().trim().split("\n");
    expect(lines.map((line) => line.replace(/ +\d+\.\d\d s$/, ""))).toEqual([...MODES]);
    expect(await staleModes()).toEqual([]);
  });

  test("the parts lie where Electron, Node and the window look for them, and nothing else does", async () => {
    expect((await readdir(at("out"))).sort()).toEqual(["electron", "renderer"]);
    expect((await readdir(at("out", "electron"))).sort()).toEqual([
      "headless.js",
      "launch.js",
      "main.js",
      "preload.cjs",
    ]);
  });

  test("the page has no inline script or style, and asks for its files beside itself", async () => {
    const page = await readFile(at("out", "renderer", "index.html"), "utf8");
    expect(page).toMatch(/<script type="module" crossorigin src="\.\/assets\/[^"]+\.js"><\/script>/);
    expect(page).not.toMatch(/<script(?![^>]*\bsrc=)|<style|\sstyle=/);
  });

  test("worker and worklet are files of their own, asked for beside the page and not from inside it", async () => {
    const names = await readdir(at("out", "renderer", "assets"));
    expect(names.map((name) => name.replace(/-[\w-]{8}\.js$/, "")).sort()).toEqual([
      "analyse.worker",
      "index",
      "tap.worklet",
    ]);
    const main = await readFile(
      at("out", "renderer", "assets", names.find((n) => n.startsWith("index")) ?? ""),
      "utf8",
    );
    expect(main).toContain("tap.worklet-");
    expect(main).not.toMatch(/data:text|blob:|createObjectURL/);
  });

  test("the preload script is CommonJS, as a sandboxed one has to be", async () => {
    const text = await readFile(at("out", "electron", "preload.cjs"), "utf8");
    expect(text).toContain('require("electron")');
    expect(text).not.toMatch(/^(import|export)\b/m);
  });

  test("no part carries a map or the path of the machine it was built on", async () => {
    const files = await everyOutput();
    expect(files.length).toBeGreaterThan(5);
    for (const file of files) {
      const text = await readFile(file, "utf8");
      expect(text.includes(project.root), file).toBe(false);
      expect(text.includes(path.resolve("node_modules")), file).toBe(false);
      expect(/sourceMappingURL/.test(text) || file.endsWith(".map"), file).toBe(false);
    }
  });

  const CHANGES: [string, Mode[]][] = [
    ["renderer/app/main.ts", ["renderer"]],
    ["electron/menu.ts", ["main", "preload", "launch", "headless", "renderer"]],
    ["package.json", ["main", "preload", "launch", "headless", "renderer"]],
  ];
  test.each(CHANGES)("a change in %s makes stale %j", async (file, expected) => {
    const before = (await stat(at(file))).mtime;
    await touch(at(file));
    expect(await staleModes()).toEqual(expected);
    await utimes(at(file), before, before);
    expect(await staleModes()).toEqual([]);
  });

  test("a deleted source is noticed", async () => {
    await writeFile(at("renderer", "app", "gone.ts"), "export {};\n");
    await rm(at("renderer", "app", "gone.ts"));
    expect(await staleModes()).toEqual(["renderer"]);
  });

  test("a part that cannot be built is named in plain words, and the old one stays", async () => {
    const source = at("electron", "main.ts");
    const good = await readFile(source, "utf8");
    const built = await readFile(at("out", "electron", "main.js"), "utf8");
    await writeFile(source, 'import "./not-there.ts";\n');
    const running = build();
    expect(await running.ended).toBe(1);
    expect(running.stderr()).toMatch(/^The main part could not be built: /);
    expect(running.stderr()).toContain("not-there.ts");
    expect(running.stderr()).not.toMatch(/^\s+at .+:\d+:\d+\)?$/m);
    expect(await readFile(at("out", "electron", "main.js"), "utf8")).toBe(built);
    expect((await readdir(at("out"))).sort()).toEqual(["electron", "renderer"]);
    await writeFile(source, good);
  });
});

describe.sequential("the launcher of the headless command", () => {
  const launcher = (...args: string[]): Running =>
    runScript(at("electron", "reedpath.mjs"), args, { cwd: project.root });

  test("builds in silence, hands over the arguments and gives back the code", async () => {
    await rm(at("out", "electron", "headless.js"), { force: true });
    const running = launcher("mark", "a.wav", "3");
    expect(await running.ended).toBe(3);
    expect(running.stdout()).toBe("");
    expect(running.stderr()).toBe("asked: mark a.wav 3");
  });

  test("eight million characters arrive whole through a pipe", async () => {
    const running = launcher("long", "8000000");
    expect(await running.ended).toBe(0);
    expect(running.stdout()).toHaveLength(8_000_003); // [calc] 8 000 000 and the three letters of "end"
    expect(running.stdout().endsWith("end")).toBe(true);
  });

  test("a reader that leaves early is no error", async () => {
    const running = launcher("lines", "200000");
    running.child.stdout?.once("data", () => running.child.stdout?.destroy());
    expect(await running.ended).toBe(0);
    expect(running.stderr()).toBe("asked: lines 200000");
  });

  test("what the command throws is one line, not a stack trace", async () => {
    const running = launcher("fail");
    expect(await running.ended).toBe(1);
    expect(running.stdout()).toBe("");
    expect(running.stderr()).toBe("the recording is empty\n");
  });

  test("run by npm, it looks for files where the player stands", async () => {
    const env = { PATH: process.env.PATH ?? "", INIT_CWD: at("renderer"), npm_lifecycle_event: "reedpath" };
    const running = runScript(at("electron", "reedpath.mjs"), ["where"], { cwd: project.root, env });
    expect(await running.ended).toBe(0);
    expect(running.stdout()).toBe(at("renderer"));
  });
});
