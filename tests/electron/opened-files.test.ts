import { execFileSync } from "node:child_process";
import { mkdir, mkdtemp, rm, symlink, truncate, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { OpenedFile } from "../../electron/bridge.ts";
import { pathsHandedOver, pathsOfArguments } from "../../electron/given-paths.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { MOST_AT_ONCE, OpenedFiles } = await import("../../electron/opened-files.ts");

let folder = "";
let files = new OpenedFiles();
const at = (...parts: string[]) => path.join(folder, ...parts);

beforeEach(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), "reedpath-opened-"));
  files = new OpenedFiles();
});
afterEach(async () => {
  files.collect();
  await files.letGoOfRead();
  await rm(folder, { recursive: true });
});

const idOf = (file: OpenedFile | undefined) => {
  if (file?.kind !== "file") throw new Error(`refused: ${file?.reason}`);
  return file.id;
};

/** What the window does: all pieces until one is empty. */
async function readWhole(id: number): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  for (let from = 0; ; ) {
    const answer = await files.read(id, from);
    if (answer.kind === "failed") throw new Error(answer.reason);
    if (answer.bytes.length === 0) return Buffer.concat(pieces);
    pieces.push(answer.bytes);
    from += answer.bytes.length;
  }
}

describe("a file given to the program", () => {
  test.each([
    ["reel.abc", "tunes"],
    ["REEL.ABC", "tunes"],
    ["set.musicxml", "tunes"],
    ["set.mxl", "tunes"],
    ["waltz.mid", "tunes"],
    ["waltz.midi", "tunes"],
    ["été 1.abc", "tunes"],
    ["mine.reedpath", "archive"],
    ["reedpath-archive-2026-11-28.gz", "archive"],
  ])("%s is told to the window as %s, by name and size and never by path", async (name, holds) => {
    await writeFile(at(name), "X:1");
    expect(await files.give([at(name)])).toBe(true);
    expect(files.collect()).toEqual([{ kind: "file", id: 1, name, holds, sizeBytes: 3 }]);
  });

  test("is read whole in pieces, and then let go", async () => {
    // [calc] three pieces of 4 MiB and 7 bytes.
    const content = Buffer.alloc(3 * 4 * 1024 * 1024 + 7, "reed");
    await writeFile(at("all.reedpath"), content);
    await files.give([at("all.reedpath")]);
    const id = idOf(files.collect()[0]);
    expect(Buffer.compare(await readWhole(id), content)).toBe(0);
    await expect(files.read(id, 0)).rejects.toThrow("no such file being read");
  });

  test("is the one that was given, even where another takes its place before it is read", async () => {
    await writeFile(at("a.abc"), "the first");
    await files.give([at("a.abc")]);
    await rm(at("a.abc"));
    await writeFile(at("a.abc"), "another");
    expect(Buffer.from(await readWhole(idOf(files.collect()[0]))).toString()).toBe("the first");
  });

  test("is not lost where the window collects while it is being opened", async () => {
    await writeFile(at("a.abc"), "a");
    const giving = files.give([at("a.abc")]);
    expect(files.collect()).toEqual([]);
    await giving;
    expect(files.collect()).toMatchObject([{ kind: "file", name: "a.abc" }]);
  });

  test("is let go unread where the player does not want it", async () => {
    await writeFile(at("a.abc"), "a");
    await files.give([at("a.abc")]);
    const id = idOf(files.collect()[0]);
    expect(await files.read(id, Number.MAX_SAFE_INTEGER)).toEqual({ kind: "read", bytes: new Uint8Array() });
    await expect(files.read(id, 0)).rejects.toThrow("no such file");
  });

  test("that waits outlives a page that begins anew; one that is being read does not", async () => {
    await writeFile(at("a.abc"), "a");
    await writeFile(at("b.abc"), "b");
    await files.give([at("a.abc")]);
    const [first] = files.collect();
    await files.give([at("b.abc")]);
    await files.letGoOfRead();
    await expect(files.read(idOf(first), 0)).rejects.toThrow("no such file");
    expect(Buffer.from(await readWhole(idOf(files.collect()[0]))).toString()).toBe("b");
  });
});

describe("what is refused, each in one sentence", () => {
  const refusals = async (...paths: string[]) => {
    await files.give(paths);
    return files.collect().map((file) => (file.kind === "refused" ? file.reason : "opened"));
  };

  test.each(["take.wav", "program.exe", "reel", "reel.abc.exe", ".abc.", "notes.pdf"])(
    "%s is no file of ours",
    async (name) => {
      await writeFile(at(name), "x");
      expect(await refusals(at(name))).toEqual([
        `${name} was not opened: it is not tunes (ABC, MusicXML, MIDI) or an archive.`,
      ]);
    },
  );

  test("one that is gone, a folder, and a link to one", async () => {
    await mkdir(at("folder.abc"));
    await symlink(at("folder.abc"), at("link.abc"), "junction");
    expect(await refusals(at("gone.abc"), at("folder.abc"), at("link.abc"))).toEqual([
      "gone.abc was not opened: that folder or file is no longer there.",
      expect.stringMatching(/^folder\.abc was not opened: that is (a folder|not a plain file)\.$/),
      expect.stringMatching(/^link\.abc was not opened: that is (a folder|not a plain file)\.$/),
    ]);
  });

  test.runIf(process.platform !== "win32")(
    "a pipe that nobody writes to, without waiting for it",
    async () => {
      execFileSync("mkfifo", [at("pipe.abc")]);
      expect(await refusals(at("pipe.abc"))).toEqual(["pipe.abc was not opened: that is not a plain file."]);
    },
  );

  test("one too large, with its size and the most there may be", async () => {
    await writeFile(at("book.abc"), "");
    await truncate(at("book.abc"), 64 * 1024 * 1024 + 1);
    await writeFile(at("years.reedpath"), "");
    await truncate(at("years.reedpath"), 4096 * 1024 * 1024 + 1);
    expect(await refusals(at("book.abc"), at("years.reedpath"))).toEqual([
      "book.abc was not opened: it has 65 MiB, at most 64 can be opened.",
      "years.reedpath was not opened: it has 4097 MiB, at most 4096 can be opened.",
    ]);
  });

  test("paths that are none", async () => {
    expect(await refusals("reel.abc", "../reel.abc", at("a\0.abc"))).toEqual([
      "reel.abc is not the path of a file.",
      "reel.abc is not the path of a file.",
      expect.stringMatching(/is not the path of a file\.$/),
    ]);
  });

  test("more at once than anyone means", async () => {
    const many = Array.from({ length: MOST_AT_ONCE + 5 }, (_, n) => at(`${n}.abc`));
    await Promise.all(many.map((file) => writeFile(file, "x")));
    const said = await refusals(...many);
    expect(said.filter((one) => one === "opened")).toHaveLength(MOST_AT_ONCE);
    expect(said.at(-1)).toBe("Only the first 20 of 25 files are opened.");
  });
});

describe("the paths", () => {
  test("of a command line are meant from where it was given", () => {
    const root = path.resolve("/program");
    expect(
      pathsOfArguments(
        ["--no-sandbox", "/program", "tunes/reel.abc", "/x/a.mid", "-v", ""],
        "/home/player",
        root,
      ),
    ).toEqual([path.resolve("/home/player/tunes/reel.abc"), path.resolve("/x/a.mid")]);
  });

  // [F] freedesktop.org, Desktop Entry Specification: %U gives addresses. RFC 8089: what they look like.
  test.runIf(process.platform !== "win32")("given as addresses are those of this machine's files", () => {
    expect(
      pathsOfArguments(
        [
          "file:///home/p/%C3%A9t%C3%A9%201.abc",
          "FILE:///x/a.mid",
          "file://elsewhere/x/a.abc",
          "file:///x%2fy.abc",
        ],
        "/home/p",
        "/program",
      ),
    ).toEqual([
      "/home/p/été 1.abc",
      "/x/a.mid",
      // What is no address of a file here is a name, and no such file will be found.
      "/home/p/file:/elsewhere/x/a.abc",
      "/home/p/file:/x%2fy.abc",
    ]);
  });

  test("handed over by a second start are absolute or nothing", () => {
    const good = path.resolve("/x/a.abc");
    expect(pathsHandedOver({ files: [good, "a.abc", 7, null, "/".repeat(40_000)] })).toEqual([good]);
    for (const none of [undefined, null, 7, "x", [], {}, { files: null }, { files: { 0: good } }])
      expect(pathsHandedOver(none)).toEqual([]);
  });
});
