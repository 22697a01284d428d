import { existsSync } from "node:fs";
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import net from "node:net";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { build } from "../../electron/build.mjs";
import { LOOPBACK_PORT } from "../../electron/product.ts";
import { copyShell, type ProjectCopy } from "./project-copy.ts";
import { plainEnvironment, type Running, runScript } from "./run-program.ts";

let project: ProjectCopy;
let port = 0;
let started: Running[] = [];

/** `npm start`, on a port of the test's own: a player cannot choose one. */
function start(args: readonly string[] = [], env = plainEnvironment()): Running {
  const running = runScript(path.join(project.root, "start-test.mjs"), args, { cwd: project.root, env });
  started.push(running);
  return running;
}

async function freePort(): Promise<number> {
  const probe = net.createServer();
  await new Promise<void>((resolve) => probe.listen(0, "127.0.0.1", resolve));
  const address = probe.address();
  await new Promise((resolve) => probe.close(resolve));
  return typeof address === "object" && address !== null ? address.port : 0;
}

/** A stack trace names a place in a file. */
const STACK = /^\s+at .+/m;

beforeAll(async () => {
  project = await copyShell();
  await build({ root: project.root, modes: ["main", "preload", "launch", "renderer"] });
});
afterAll(() => project.remove());

beforeEach(async () => {
  port = await freePort();
  const startScript = pathToFileURL(path.join(project.root, "electron", "start.mjs")).href;
  await writeFile(
    path.join(project.root, "start-test.mjs"),
    `import { start } from "${startScript}";
     process.exitCode = await start({ argv: process.argv.slice(2), port: ${port} });`,
  );
});
afterEach(async () => {
  for (const { child } of started) child.kill("SIGKILL");
  await Promise.all(started.map((running) => running.ended));
  started = [];
});

describe.sequential("npm start without a display", () => {
  test("says so in one line, serves the app, and ends cleanly on Ctrl-C", async () => {
    const running = start();
    await running.waitFor(/\n/);
    expect(running.stdout()).toBe(
      `There is no display, so Reedpath is served to your browser at http://127.0.0.1:${port}/ ` +
        "(Ctrl-C stops it; that browser keeps the history).\n",
    );
    const page = await fetch(`http://127.0.0.1:${port}/`);
    expect(page.headers.get("Content-Security-Policy")).toContain("default-src 'none'");
    expect(await page.text()).toContain("<title>Copy</title>");
    running.child.kill("SIGINT");
    expect([await running.ended, running.stderr()]).toEqual([0, ""]);
  });

  test("a page still open in a browser does not keep it from ending", async () => {
    const running = start();
    await running.waitFor(/\n/);
    const socket = net.connect(port, "127.0.0.1");
    socket.on("error", () => {});
    await new Promise((resolve) => socket.once("connect", resolve));
    running.child.kill("SIGTERM");
    expect(await running.ended).toBe(0);
    socket.destroy();
  });

  test("builds first when something changed, and says how long that took", async () => {
    await rm(path.join(project.root, "out", "electron", "preload.cjs"));
    const running = start();
    await running.waitFor(/served to your browser/);
    expect(running.stdout()).toMatch(/^Built in \d+\.\d s\.\n/);
  });

  test("a second start says that it is running already, and ends well", async () => {
    const first = start();
    await first.waitFor(/\n/);
    const second = start();
    expect(await second.ended).toBe(0);
    expect(second.stdout()).toMatch(
      new RegExp(`^Reedpath \\d+\\.\\d+\\.\\d+ is already running at http://127\\.0\\.0\\.1:${port}/\\.\n$`),
    );
    expect(second.stderr()).toBe("");
  });
});

describe.sequential("the port held by another program", () => {
  const strangers: [string, (socket: net.Socket) => void][] = [
    ["hangs up", (socket) => socket.destroy()],
    ["says nothing", () => {}],
    ["never comes to an end", (socket) => socket.write(`HTTP/1.1 200 OK\r\n\r\n${"x".repeat(10_000)}`)],
    ["speaks something else", (socket) => socket.end("220 ready\r\n")],
    [
      "is another web server",
      (socket) => socket.end('HTTP/1.1 200 OK\r\nContent-Length: 19\r\n\r\n{"product":"Other"}'),
    ],
  ];

  test.each(strangers)("that %s: one line with the port and the way to free it", async (_name, behave) => {
    const sockets = new Set<net.Socket>();
    const stranger = net.createServer((socket) => {
      sockets.add(socket);
      socket.on("error", () => {});
      behave(socket);
    });
    await new Promise<void>((resolve) => stranger.listen(port, "127.0.0.1", resolve));
    const running = start();
    expect([await running.ended, running.stdout()]).toEqual([2, ""]);
    expect(running.stderr().trim().split("\n")).toHaveLength(1);
    expect(running.stderr()).toContain(`Port ${port} is taken by another program: find it with "`);
    expect(running.stderr()).toMatch(/stop it with "/);
    expect(running.stderr()).not.toMatch(STACK);
    for (const socket of sockets) socket.destroy();
    await new Promise((resolve) => stranger.close(resolve));
  });
});

describe.sequential("what can go wrong before", () => {
  test.each([["--port", "8080"], ["--browser", "now"], ["tune.abc"]])(
    "unknown arguments %s get the usage in one line",
    async (...args) => {
      const running = start(args);
      expect([await running.ended, running.stdout()]).toEqual([2, ""]);
      expect(running.stderr()).toMatch(/^Usage: npm start, .+\n$/);
    },
  );

  test("a window that cannot be opened gives way to the browser", async () => {
    const env = plainEnvironment({ DISPLAY: ":0", PATH: "" });
    const running = start([], env);
    await running.waitFor(/served to your browser at /);
    expect(running.stdout()).toMatch(/^(Electron's program is not installed|Fetching|The window could not)/);
    expect(running.stderr()).toBe("");
  });

  test("--browser says that it was asked for; that no browser is found is no error", async () => {
    const running = start(["--browser"], plainEnvironment({ DISPLAY: ":0", PATH: "" }));
    await running.waitFor(/^You asked for the browser, so Reedpath is served/);
    running.child.kill("SIGINT");
    expect([await running.ended, running.stderr()]).toEqual([0, ""]);
  });
});

describe
  .skipIf(process.platform === "win32")
  .sequential("with a display and a program in Electron's place", () => {
    /** Starts around a project of its own, whose Electron is a shell script. */
    async function startAround(script: string): Promise<Running> {
      const root = path.join(project.root, "around");
      const home = path.join(root, "node_modules", "electron");
      await mkdir(path.join(home, "dist"), { recursive: true });
      await mkdir(path.join(root, "out", "renderer"), { recursive: true });
      await writeFile(path.join(root, "out", "renderer", "index.html"), "<title>Around</title>");
      await writeFile(path.join(home, "path.txt"), "electron");
      await writeFile(path.join(home, "dist", "electron"), `#!/bin/sh\n${script}\n`, { mode: 0o755 });
      const launchScript = pathToFileURL(path.join(project.root, "out", "electron", "launch.js")).href;
      await writeFile(
        path.join(project.root, "start-test.mjs"),
        `import { launch } from "${launchScript}";
       process.exitCode = await launch({ argv: [], root: ${JSON.stringify(root)}, port: ${port} });`,
      );
      return start([], plainEnvironment({ DISPLAY: ":0", ELECTRON_RUN_AS_NODE: "1" }));
    }

    test("the window is given the project, and not made to run as plain Node", async () => {
      const told = path.join(project.root, "told.txt");
      const running = await startAround(`echo "$1 as-node=$ELECTRON_RUN_AS_NODE" > '${told}'`);
      expect([await running.ended, running.stdout(), running.stderr()]).toEqual([0, "", ""]);
      expect(await readFile(told, "utf8")).toBe(`${path.join(project.root, "around")} as-node=\n`);
    });

    test("one that ends at once with an error gives way to the browser, and says so", async () => {
      const running = await startAround("echo noise >&2; exit 3");
      await running.waitFor(/\n/);
      expect(running.stdout()).toMatch(
        /^The window could not be opened \(Electron: code 3\), so Reedpath is served to your browser at .+\n$/,
      );
      running.child.kill("SIGINT");
      expect([await running.ended, running.stderr()]).toEqual([0, ""]);
    });

    test("being told to end closes the window too", async () => {
      const opened = path.join(project.root, "opened.txt");
      const running = await startAround(`echo yes > '${opened}'; exec sleep 60`);
      await expect.poll(() => existsSync(opened), { timeout: 10_000 }).toBe(true);
      running.child.kill("SIGTERM");
      expect([await running.ended, running.stdout(), running.stderr()]).toEqual([0, "", ""]);
    });
  });

test("the port is this literal, because the history in the browser hangs on it", () => {
  expect(LOOPBACK_PORT).toBe(47815);
});
