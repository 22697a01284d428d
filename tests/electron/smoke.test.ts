import { mkdtemp, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { type ElectronApplication, _electron as electron, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { build, PROJECT_ROOT } from "../../electron/build.mjs";
import { findElectron } from "../../electron/electron-binary.ts";
import { copyShell, type ProjectCopy } from "./project-copy.ts";

/**
 * What only Electron itself can prove. Skipped, and said so in the name, where it cannot run; with REEDPATH_SMOKE=must, as
 * before a release, that is a failure.
 */

const binary = findElectron(PROJECT_ROOT);
const hasDisplay =
  process.platform !== "linux" || Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);

function obstacle(): string | null {
  if (binary === null) return "Electron's program is not installed here";
  return hasDisplay ? null : "there is no display here";
}
const reason = obstacle();
const title = reason === null ? "the real Electron" : `the real Electron (SKIPPED: ${reason})`;

let project: ProjectCopy;
let data = "";
let app: ElectronApplication;
let page: Page;

const mustRun = process.env.REEDPATH_SMOKE === "must";

describe.skipIf(reason !== null && !mustRun)(title, () => {
  beforeAll(async () => {
    if (reason !== null) throw new Error(reason);
    project = await copyShell();
    data = await mkdtemp(path.join(os.tmpdir(), "reedpath-data-"));
    await build({ root: project.root, modes: ["main", "preload", "renderer"] });
    await writeFile(path.join(data, "reel.abc"), "X:1\n");
    const sandbox = process.getuid?.() === 0 ? ["--no-sandbox"] : [];
    app = await electron.launch({
      executablePath: binary ?? "",
      args: [
        ...sandbox,
        `--user-data-dir=${data}`,
        "--use-fake-device-for-media-stream",
        project.root,
        path.join(data, "reel.abc"),
      ],
    });
    page = await app.firstWindow();
    await page.waitForLoadState("load");
  });
  afterAll(async () => {
    await app.close();
    await project.remove();
    await rm(data, { recursive: true, force: true });
  });

  test("the page runs its script under its own address, in a secure context", async () => {
    expect(page.url()).toBe("app://reedpath/index.html");
    expect(await page.title()).toBe("Started");
    expect(await page.evaluate(() => [isSecureContext, location.origin])).toEqual([true, "app://reedpath"]);
  });

  test("nothing of Node reaches the page, and the bridge does", async () => {
    const seen = await page.evaluate(() => ({
      node: ["process", "require", "Buffer", "module"].filter((name) => name in globalThis),
      verbs: Object.keys(window.reedpath ?? {}).sort(),
    }));
    const ofFiles = [
      "abandonFile",
      "addToFile",
      "backups",
      "beginBackup",
      "beginFile",
      "finishFile",
      "readBackup",
    ];
    const opened = ["onAsked", "openedFiles", "readOpenedFile"];
    const verbs = [...ofFiles, ...opened, "keepAwake", "openRecording", "saveFile", "version"].sort();
    expect(seen).toEqual({ node: [], verbs });
    expect(await page.evaluate(() => window.reedpath?.version())).toMatch(/^\d+\.\d+\.\d+/);
  });

  test("a file of the command line waits for the page, and is read by its number", async () => {
    const read = await page.evaluate(async () => {
      const [file] = (await window.reedpath?.openedFiles()) ?? [];
      if (file?.kind !== "file") return file;
      const answer = await window.reedpath?.readOpenedFile(file.id, 0);
      return { ...file, text: answer?.kind === "read" ? new TextDecoder().decode(answer.bytes) : answer };
    });
    expect(read).toMatchObject({ name: "reel.abc", holds: "tunes", sizeBytes: 4, text: "X:1\n" });
  });

  test("the microphone is given, the camera is not", async () => {
    const ask = (wanted: MediaStreamConstraints) =>
      page.evaluate(
        (constraints) =>
          navigator.mediaDevices.getUserMedia(constraints).then(
            (stream) => stream.getTracks().map((track) => track.kind),
            (error: Error) => error.name,
          ),
        wanted,
      );
    expect(await ask({ audio: true })).toEqual(["audio"]);
    expect(await ask({ video: true })).toBe("NotAllowedError");
  });

  test("what is stored is still there after a reload", async () => {
    await page.evaluate(
      () =>
        new Promise<void>((resolve, reject) => {
          const opening = indexedDB.open("smoke", 1);
          opening.onupgradeneeded = () => opening.result.createObjectStore("kept");
          opening.onerror = () => reject(new Error("no database"));
          opening.onsuccess = () => {
            const writing = opening.result.transaction("kept", "readwrite", { durability: "strict" });
            writing.objectStore("kept").put("a take", 1);
            writing.oncomplete = () => {
              opening.result.close();
              resolve();
            };
          };
        }),
    );
    await page.reload();
    const names = await page.evaluate(async () => (await indexedDB.databases()).map((found) => found.name));
    expect(names).toContain("smoke");
  });

  test("no request leaves the machine, not even to the machine itself", async () => {
    const answers = await page.evaluate(() =>
      Promise.all(
        ["https://example.org/", "http://127.0.0.1:47815/"].map((url) =>
          fetch(url).then(
            () => "answered",
            () => "refused",
          ),
        ),
      ),
    );
    expect(answers).toEqual(["refused", "refused"]);
    // The content policy alone would refuse these two; the request filter has to refuse without it.
    const unpoliced = await app.evaluate(({ session }) =>
      session.defaultSession.fetch("http://127.0.0.1:47815/").then(
        () => "answered",
        (error: Error) => error.message,
      ),
    );
    expect(unpoliced).toContain("ERR_BLOCKED_BY_CLIENT");
  });

  test("no second window opens and the page stays where it is", async () => {
    await page.evaluate(() => {
      window.open("https://example.org/");
      location.href = "https://example.org/";
    });
    await page.waitForTimeout(500);
    expect(app.windows()).toHaveLength(1);
    expect(page.url()).toMatch(/^app:\/\/reedpath\//);
  });

  test("a file is saved whole where the dialog points", async () => {
    const target = path.join(data, "saved.bin");
    await writeFile(target, "older");
    await app.evaluate(({ dialog }, filePath) => {
      dialog.showSaveDialog = () => Promise.resolve({ canceled: false, filePath });
    }, target);
    const answer = await page.evaluate(() => window.reedpath?.saveFile("saved.bin", new Uint8Array([1, 2])));
    expect(answer).toEqual({ kind: "saved", name: "saved.bin" });
  });
});
