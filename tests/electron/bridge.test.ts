import { mkdtemp, readdir, readFile, rm, truncate, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { ReedpathBridge } from "../../electron/bridge.ts";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { answerBridge } = await import("../../electron/ipc.ts");
const { abandonFiles } = await import("../../electron/ipc-files.ts");
const { OpenedFiles } = await import("../../electron/opened-files.ts");
const { keepAwake } = await import("../../electron/keep-awake.ts");
const { writeWhole } = await import("../../electron/write-whole.ts");

const ourFrame = { url: "app://reedpath/index.html", parent: null };
const bytes = new Uint8Array([1, 2, 3]);
let folder = "";

/** Sends a message as the page would and gives what the main process answers. */
async function send(channel: string, args: unknown[], frame: unknown = ourFrame): Promise<unknown> {
  const handler = electron.handlers.get(channel);
  if (handler === undefined) throw new Error(`nothing answers ${channel}`);
  const event = { senderFrame: frame, sender: electron.webContents };
  return (handler as (...all: unknown[]) => unknown)(event, ...args);
}

beforeEach(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), "reedpath-bridge-"));
  new electron.BrowserWindow({});
  electron.app.getPath.mockReturnValue(folder);
  answerBridge(new OpenedFiles());
});
afterEach(async () => {
  keepAwake(false);
  await abandonFiles();
  electron.forget();
  await rm(folder, { recursive: true });
});

const WELL_FORMED: [string, unknown[]][] = [
  ["reedpath:save-file", ["history.zip", bytes]],
  ["reedpath:open-recording", []],
  ["reedpath:begin-file", ["archive.gz"]],
  ["reedpath:begin-backup", [12]],
  ["reedpath:add-to-file", [999, bytes]],
  ["reedpath:finish-file", [999]],
  ["reedpath:abandon-file", [999]],
  ["reedpath:backups", []],
  ["reedpath:read-backup", ["reedpath-backup-0001-20261128T083412Z-12-attempts.archive.gz", 0]],
  ["reedpath:opened-files", []],
  ["reedpath:read-opened-file", [999, 0]],
  ["reedpath:version", []],
  ["reedpath:keep-awake", [true]],
];

describe("who may speak", () => {
  const strangers = [
    null,
    { url: "https://example.org/", parent: null },
    { url: "app://other/index.html", parent: null },
    { url: "file:///program/renderer/index.html", parent: null },
    { url: "", parent: null },
    { url: ourFrame.url, parent: ourFrame },
  ];
  test.each(WELL_FORMED)("%s is answered for our page only", async (channel, args) => {
    for (const frame of strangers) {
      await expect(send(channel, args, frame)).rejects.toThrow("did not come from the program's own page");
    }
    expect(electron.dialog.showSaveDialog).not.toHaveBeenCalled();
    expect(electron.dialog.showOpenDialog).not.toHaveBeenCalled();
    expect(electron.powerSaveBlocker.start).not.toHaveBeenCalled();
    // No file is being written or read: these three are answered with that.
    const answered = send(channel, args).catch((error: Error) => error.message);
    if (/add-to-file|finish-file/.test(channel))
      expect(await answered).toBe("There is no such file being written.");
    else if (/read-opened/.test(channel)) expect(await answered).toBe("There is no such file being read.");
    else expect(await answered).not.toEqual(expect.stringMatching(/did not come/));
  });

  test("there are thirteen verbs and no more", () => {
    expect([...electron.handlers.keys()].sort()).toEqual(WELL_FORMED.map(([channel]) => channel).sort());
  });

  test.each(WELL_FORMED)("%s refuses an argument too many", async (channel, args) => {
    await expect(send(channel, [...args, "more"])).rejects.toThrow("1 argument(s) too many");
  });
});

describe("saving a file", () => {
  const NAMES = [
    "",
    ".hidden",
    "..",
    "a/b",
    "a\\b",
    "C:x",
    "a\0b",
    "a\nb",
    "a?b",
    "x".repeat(121),
    7,
    null,
    {},
  ];
  test.each(NAMES)("the name %j is refused", async (name) => {
    await expect(send("reedpath:save-file", [name, bytes])).rejects.toThrow("not a plain file name");
    expect(electron.dialog.showSaveDialog).not.toHaveBeenCalled();
  });

  test.each([["text"], [[1, 2]], [new ArrayBuffer(2)], [undefined], [new Float32Array(2)]])(
    "content %o is refused",
    async (content) => {
      await expect(send("reedpath:save-file", ["a.wav", content])).rejects.toThrow("not a Uint8Array");
    },
  );

  test("the file lies whole where the player chose, over the old one, and nothing beside it", async () => {
    const filePath = path.join(folder, "été 1.zip");
    await writeFile(filePath, "an older and longer content");
    electron.dialog.showSaveDialog.mockResolvedValueOnce({ canceled: false, filePath });
    const answer = await send("reedpath:save-file", ["history.zip", bytes]);
    expect(answer).toEqual({ kind: "saved", name: "été 1.zip" });
    expect(new Uint8Array(await readFile(filePath))).toEqual(bytes);
    expect(await readdir(folder)).toEqual(["été 1.zip"]);
    expect(electron.dialog.showSaveDialog.mock.calls[0]?.[1]).toMatchObject({ defaultPath: "history.zip" });
  });

  test("a player who changes her mind loses nothing", async () => {
    expect(await send("reedpath:save-file", ["a.zip", bytes])).toEqual({ kind: "cancelled" });
  });

  test("a folder that is gone is explained in a sentence", async () => {
    const filePath = path.join(folder, "gone", "a.zip");
    electron.dialog.showSaveDialog.mockResolvedValueOnce({ canceled: false, filePath });
    expect(await send("reedpath:save-file", ["a.zip", bytes])).toEqual({
      kind: "failed",
      reason: "a.zip was not saved: that folder or file is no longer there.",
    });
  });

  test("a file that cannot be replaced leaves no half of a new one", async () => {
    // A folder of that name makes the last step, the renaming, fail.
    await expect(writeWhole(folder, bytes)).rejects.toThrow();
    const beside = (await readdir(path.dirname(folder))).filter((name) =>
      name.startsWith(`${path.basename(folder)}.`),
    );
    expect(beside).toEqual([]);
  });
});

describe("opening a recording", () => {
  test("name and content come back", async () => {
    const file = path.join(folder, "try 3.wav");
    await writeFile(file, bytes);
    electron.dialog.showOpenDialog.mockResolvedValueOnce({ canceled: false, filePaths: [file] });
    expect(await send("reedpath:open-recording", [])).toEqual({ kind: "opened", name: "try 3.wav", bytes });
  });

  test("a player who changes her mind gets nothing", async () => {
    expect(await send("reedpath:open-recording", [])).toEqual({ kind: "cancelled" });
  });

  test("a file above 512 MiB is refused with its size", async () => {
    const file = path.join(folder, "evening.wav");
    await writeFile(file, "");
    await truncate(file, 513 * 1024 * 1024);
    electron.dialog.showOpenDialog.mockResolvedValueOnce({ canceled: false, filePaths: [file] });
    expect(await send("reedpath:open-recording", [])).toEqual({
      kind: "failed",
      reason: "evening.wav has 513 MiB; at most 512 MiB can be opened.",
    });
  });

  test("a file that is gone is explained in a sentence", async () => {
    electron.dialog.showOpenDialog.mockResolvedValueOnce({
      canceled: false,
      filePaths: [path.join(folder, "no.wav")],
    });
    expect(await send("reedpath:open-recording", [])).toEqual({
      kind: "failed",
      reason: "no.wav was not opened: that folder or file is no longer there.",
    });
  });
});

describe("the small verbs", () => {
  test("the version is the program's", async () => {
    expect(await send("reedpath:version", [])).toBe("1.2.3");
  });

  test("the display stays on while practising, and only then", async () => {
    await send("reedpath:keep-awake", [true]);
    await send("reedpath:keep-awake", [true]);
    expect(electron.powerSaveBlocker.start).toHaveBeenCalledExactlyOnceWith("prevent-display-sleep");
    await send("reedpath:keep-awake", [false]);
    await send("reedpath:keep-awake", [false]);
    expect(electron.powerSaveBlocker.stop).toHaveBeenCalledExactlyOnceWith(7);
  });

  test.each([[1], ["true"], [null], [undefined]])("keeping awake %j is refused", async (awake) => {
    await expect(send("reedpath:keep-awake", [awake])).rejects.toThrow("not true or false");
  });
});

describe("the preload script", () => {
  test("puts these verbs on the page, and nothing of Electron itself", async () => {
    await import("../../electron/preload.ts");
    const [[name, api]] = electron.contextBridge.exposeInMainWorld.mock.calls as [[string, ReedpathBridge]];
    expect(name).toBe("reedpath");
    expect(Object.keys(api).sort()).toEqual([
      "abandonFile",
      "addToFile",
      "backups",
      "beginBackup",
      "beginFile",
      "finishFile",
      "keepAwake",
      "onAsked",
      "openRecording",
      "openedFiles",
      "readBackup",
      "readOpenedFile",
      "saveFile",
      "version",
    ]);
    await api.beginFile("a.gz");
    await api.beginBackup(12);
    await api.addToFile(1, bytes);
    await api.finishFile(1);
    await api.abandonFile(2);
    await api.backups();
    await api.readBackup("b.gz", 5);
    await api.saveFile("a.wav", bytes);
    await api.openRecording();
    await api.openedFiles();
    await api.readOpenedFile(3, 4);
    await api.version();
    await api.keepAwake(true);
    expect(electron.ipcRenderer.invoke.mock.calls).toEqual([
      ["reedpath:begin-file", "a.gz"],
      ["reedpath:begin-backup", 12],
      ["reedpath:add-to-file", 1, bytes],
      ["reedpath:finish-file", 1],
      ["reedpath:abandon-file", 2],
      ["reedpath:backups"],
      ["reedpath:read-backup", "b.gz", 5],
      ["reedpath:save-file", "a.wav", bytes],
      ["reedpath:open-recording"],
      ["reedpath:opened-files"],
      ["reedpath:read-opened-file", 3, 4],
      ["reedpath:version"],
      ["reedpath:keep-awake", true],
    ]);
  });

  test("passes on a word that is asked of the page, without Electron's event, until it is ended", async () => {
    vi.resetModules();
    await import("../../electron/preload.ts");
    const [[, api]] = electron.contextBridge.exposeInMainWorld.mock.calls as [[string, ReedpathBridge]];
    const heard = vi.fn();
    const end = api.onAsked(heard);
    electron.ipcRenderer.emit("reedpath:asked", { sender: "the way to the main process" }, "about");
    expect(heard.mock.calls).toEqual([["about"]]);
    expect(end()).toBeUndefined();
    electron.ipcRenderer.emit("reedpath:asked", {}, "opened files");
    expect(heard).toHaveBeenCalledOnce();
  });
});
