import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { Backup } from "../../electron/bridge.ts";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

/** What the next writes of a file meet with instead; the disk of a test machine is not filled. */
const disk = vi.hoisted(() => ({ full: false }));
vi.mock("node:fs/promises", async (original) => {
  const real = await original<typeof import("node:fs/promises")>();
  const open: typeof real.open = async (...args) => {
    const handle = await real.open(...args);
    const write = handle.writeFile.bind(handle);
    handle.writeFile = async (...content) => {
      if (disk.full) throw Object.assign(new Error("ENOSPC: no space left on device"), { code: "ENOSPC" });
      return write(...content);
    };
    return handle;
  };
  return { ...real, open };
});

const { answerBridge } = await import("../../electron/ipc.ts");
const { OpenedFiles } = await import("../../electron/opened-files.ts");
const { abandonFiles } = await import("../../electron/ipc-files.ts");
const { Backups } = await import("../../electron/backups.ts");

const ourFrame = { url: "app://reedpath/index.html", parent: null };
// [calc] 1795854852 s after 1970-01-01T00:00Z is 2026-11-28T08:34:12Z.
const NOW = 1_795_854_852_000;
let userData = "";
const inBackups = (...names: readonly string[]) => path.join(userData, "backups", ...names);

async function send<T>(channel: string, ...args: unknown[]): Promise<T> {
  const handler = electron.handlers.get(`reedpath:${channel}`);
  if (handler === undefined) throw new Error(`nothing answers ${channel}`);
  const event = { senderFrame: ourFrame, sender: electron.webContents };
  return (handler as (...all: unknown[]) => unknown)(event, ...args) as T;
}

async function backUp(words: string, attempts = 12): Promise<unknown> {
  const begun = await send<{ readonly id: number }>("begin-backup", attempts);
  await send("add-to-file", begun.id, new TextEncoder().encode(words));
  return send("finish-file", begun.id);
}

const list = async () => (await send<{ readonly backups: readonly Backup[] }>("backups")).backups;
const folder = async () => (await readdir(inBackups())).sort();

beforeEach(async () => {
  vi.useFakeTimers({ now: NOW, toFake: ["Date"] });
  userData = await mkdtemp(path.join(os.tmpdir(), "reedpath-backups-"));
  electron.app.getPath.mockReturnValue(userData);
  new electron.BrowserWindow({});
  answerBridge(new OpenedFiles());
});
afterEach(async () => {
  disk.full = false;
  await abandonFiles();
  electron.forget();
  await rm(userData, { recursive: true });
  vi.useRealTimers();
});

describe("a backup", () => {
  test("is none where there is none yet", async () => {
    expect(await list()).toEqual([]);
  });

  test("stands whole under the program's own folder, with when and how much in its name", async () => {
    expect(await backUp("everything", 1234)).toEqual({ kind: "saved", name: "The backup" });
    const name = "reedpath-backup-0001-20261128T083412Z-1234-attempts.archive.gz";
    expect(await folder()).toEqual([name]);
    expect(electron.app.getPath).toHaveBeenCalledWith("userData");
    expect(await list()).toEqual([{ name, atEpochMs: NOW, attempts: 1234, sizeBytes: 10 }]); // [calc] ten letters
    expect(await send("read-backup", name, 0)).toEqual({
      kind: "read",
      bytes: new TextEncoder().encode("everything"),
    });
    expect(await send("read-backup", name, 10)).toEqual({ kind: "read", bytes: new Uint8Array() });
  });

  test("does not stand before it is finished, and leaves nothing where it is abandoned", async () => {
    const { id } = await send<{ readonly id: number }>("begin-backup", 3);
    await send("add-to-file", id, new Uint8Array(9));
    expect(await list()).toEqual([]);
    await send("abandon-file", id);
    await send("abandon-file", id);
    expect(await folder()).toEqual([]);
    await expect(send("add-to-file", id, new Uint8Array(1))).rejects.toThrow("no such file being written");
  });

  test("pieces keep their order although none waits for the one before", async () => {
    const { id } = await send<{ readonly id: number }>("begin-backup", 3);
    const pieces = Array.from({ length: 40 }, (_, n) => new Uint8Array(20_000).fill(n));
    await Promise.all(pieces.map((piece) => send("add-to-file", id, piece)));
    await send("finish-file", id);
    const [name = ""] = await folder();
    const kept = await readFile(inBackups(name));
    expect(Buffer.compare(kept, Buffer.concat(pieces))).toBe(0);
  });

  test("the newest ten are kept, and a clock set back makes the newest no older", async () => {
    for (let n = 1; n <= 12; n++) {
      vi.setSystemTime(NOW - n * 86_400_000);
      await backUp(`number ${n}`, n);
    }
    expect((await list()).map(({ attempts }) => attempts)).toEqual([12, 11, 10, 9, 8, 7, 6, 5, 4, 3]);
    expect(await folder()).toHaveLength(10);
  });
});

describe("when something goes wrong", () => {
  test("a program ended in the middle leaves a part that is no backup and is cleared away", async () => {
    await backUp("whole");
    // What lies there when a process is killed between writing and renaming, and a file of someone else's.
    const part = "reedpath-backup-0002-20261128T093412Z-9-attempts.archive.gz.1b4e28ba.part";
    await writeFile(inBackups(part), "half a ba");
    await writeFile(inBackups("letter.txt"), "mine");
    await mkdir(inBackups("reedpath-backup-0009-20261128T093412Z-9-attempts.archive.gz"));
    const again = new Backups(inBackups(), () => NOW);
    expect((await again.list()).map(({ attempts }) => attempts)).toEqual([12]);
    expect(await folder()).toContain(part);
    await backUp("the next");
    expect(await folder()).not.toContain(part);
    expect(await folder()).toContain("letter.txt");
    expect(await list()).toHaveLength(2);
  });

  test("a part that is still growing is not cleared away by the next", async () => {
    const { id } = await send<{ readonly id: number }>("begin-backup", 3);
    await send("add-to-file", id, new Uint8Array(5));
    await backUp("the other");
    expect(await send("finish-file", id)).toEqual({ kind: "saved", name: "The backup" });
    expect(await list()).toHaveLength(2);
  });

  test("a full disk is told, and the old backups are as they were", async () => {
    for (let n = 1; n <= 10; n++) await backUp(`number ${n}`, n);
    const before = await folder();
    disk.full = true;
    const { id } = await send<{ readonly id: number }>("begin-backup", 11);
    expect(await send("add-to-file", id, new Uint8Array(5))).toEqual({
      kind: "failed",
      reason: "The backup was not saved: the disk is full.",
    });
    disk.full = false;
    expect(await folder()).toEqual(before);
    await expect(send("finish-file", id)).rejects.toThrow("no such file being written");
  });

  test("a window that is gone finishes nothing", async () => {
    await send("begin-backup", 3);
    await abandonFiles();
    expect(await folder()).toEqual([]);
  });

  test("a place where no folder can be made is told in a sentence", async () => {
    await writeFile(path.join(userData, "file"), "");
    electron.app.getPath.mockReturnValue(path.join(userData, "file"));
    answerBridge(new OpenedFiles());
    expect(await send("begin-backup", 3)).toEqual({
      kind: "failed",
      reason: expect.stringMatching(/^The backup was not saved: .+\.$/),
    });
  });
});

describe("what the window may ask", () => {
  test.each([
    "../../etc/passwd",
    "reedpath-backup-0001-20261128T083412Z-12-attempts.archive.gz/../../x",
    "..\\reedpath-backup-0001-20261128T083412Z-12-attempts.archive.gz",
    "reedpath-backup-0001-20261128T083412Z-12-attempts.archive.gz\n",
    "letter.txt",
    "",
    7,
    null,
  ])("the name %j is refused", async (name) => {
    await expect((async () => send("read-backup", name, 0))()).rejects.toThrow("not one of a backup");
  });

  test.each([[-1], [1.5], ["1"], [Number.NaN], [1e12], [null]])(
    "a backup of %j attempts is refused",
    async (attempts) => {
      await expect((async () => send("begin-backup", attempts))()).rejects.toThrow("not a whole number");
    },
  );

  test("a piece that is no bytes or above 8 MiB, and a fifth file at once, are refused", async () => {
    for (let n = 0; n < 4; n++) await send("begin-backup", n);
    await expect((async () => send("begin-backup", 5))()).rejects.toThrow("4 files are being written");
    await expect((async () => send("add-to-file", 1, "text"))()).rejects.toThrow("not a Uint8Array");
    const large = new Uint8Array(8 * 1024 * 1024 + 1);
    await expect((async () => send("add-to-file", 1, large))()).rejects.toThrow("above 8 MiB");
  });
});

describe("a file that grows where the player chose", () => {
  test("stands whole, over the old one", async () => {
    const filePath = path.join(userData, "mine.gz");
    await writeFile(filePath, "an older and longer content");
    electron.dialog.showSaveDialog.mockResolvedValueOnce({ canceled: false, filePath });
    const { id } = await send<{ readonly id: number }>("begin-file", "archive.gz");
    await send("add-to-file", id, new TextEncoder().encode("new"));
    expect(await readFile(filePath, "utf8")).toBe("an older and longer content");
    expect(await send("finish-file", id)).toEqual({ kind: "saved", name: "mine.gz" });
    expect(await readFile(filePath, "utf8")).toBe("new");
    expect((await readdir(userData)).sort()).toEqual(["mine.gz"]);
  });

  test("is none where the player changes her mind, or where its folder is gone", async () => {
    expect(await send("begin-file", "archive.gz")).toEqual({ kind: "cancelled" });
    const filePath = path.join(userData, "gone", "a.gz");
    electron.dialog.showSaveDialog.mockResolvedValueOnce({ canceled: false, filePath });
    expect(await send("begin-file", "archive.gz")).toEqual({
      kind: "failed",
      reason: "a.gz was not saved: that folder or file is no longer there.",
    });
    await expect((async () => send("begin-file", "../a.gz"))()).rejects.toThrow("not a plain file name");
  });
});
