import { act, cleanup, renderHook } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { OpenedFile, PieceResult, ShellAsk } from "../../electron/bridge.ts";
import { droppedFiles, shellFiles } from "../../renderer/app/given-file.ts";
import { useGivenFiles } from "../../renderer/app/use-given-files.ts";

afterEach(cleanup);

const file = (id: number, name: string, holds: "tunes" | "archive" = "tunes", sizeBytes = 3): OpenedFile => ({
  kind: "file",
  id,
  name,
  holds,
  sizeBytes,
});

/** A shell that has files, each of which holds its own number over and over, in pieces of two bytes. */
function shell(files: readonly OpenedFile[], sizeBytes = 3) {
  let waiting = files;
  let listener: ((what: ShellAsk) => void) | null = null;
  const end = vi.fn();
  return {
    end,
    give: (more: readonly OpenedFile[]) => {
      waiting = more;
      listener?.("opened files");
    },
    ask: (what: ShellAsk) => listener?.(what),
    bridge: {
      openedFiles: vi.fn(async () => {
        const all = waiting;
        waiting = [];
        return all;
      }),
      readOpenedFile: vi.fn(
        async (id: number, from: number): Promise<PieceResult> => ({
          kind: "read",
          bytes: new Uint8Array(Math.max(0, Math.min(2, sizeBytes - from))).fill(id),
        }),
      ),
      onAsked: (heard: (what: ShellAsk) => void) => {
        listener = heard;
        return end;
      },
    },
  };
}

function open(of: ReturnType<typeof shell> | null, first: { isOnSheet?: boolean; isAsking?: boolean } = {}) {
  const brought: string[] = [];
  const world = {
    bridge: of?.bridge ?? null,
    onRoom: vi.fn(),
    onAbout: vi.fn(),
    bringTunes: vi.fn(async (tunes: File) => {
      brought.push(`${tunes.name}: ${new Uint8Array(await tunes.arrayBuffer()).join()}`);
    }),
  };
  const { result, rerender, unmount } = renderHook(
    ({ isOnSheet = false, isAsking = false }: typeof first) =>
      useGivenFiles({ ...world, isOnSheet, isAsking }),
    { initialProps: first },
  );
  const settle = () => act(() => new Promise((resolve) => setTimeout(resolve, 5)));
  return { result, rerender, unmount, settle, world, brought };
}

describe("files from outside", () => {
  test("are brought in one after the other, whole, in the order they were given", async () => {
    const { settle, world, brought } = open(shell([file(1, "a.abc"), file(2, "b.mid"), file(3, "c.mxl")]));
    await settle();
    expect(brought).toEqual(["a.abc: 1,1,1", "b.mid: 2,2,2", "c.mxl: 3,3,3"]);
    expect(world.onRoom.mock.calls).toEqual([["tunes"], ["tunes"], ["tunes"]]);
  });

  test("wait on the sheet, and are opened once it is left, or let go unread", async () => {
    const of = shell([file(1, "a.abc")]);
    const { result, rerender, settle, world, brought } = open(of, { isOnSheet: true });
    await settle();
    expect(result.current.waiting.map(({ name }) => name)).toEqual(["a.abc"]);
    expect([brought, of.bridge.readOpenedFile.mock.calls]).toEqual([[], []]);
    act(() => result.current.openNow());
    expect(world.onRoom.mock.calls).toEqual([["tunes"]]);
    rerender({ isOnSheet: false });
    await settle();
    expect(brought).toEqual(["a.abc: 1,1,1"]);

    rerender({ isOnSheet: true });
    act(() => of.give([file(7, "b.abc")]));
    await settle();
    act(() => result.current.leave());
    rerender({ isOnSheet: false });
    await settle();
    expect(brought).toHaveLength(1);
    expect(of.bridge.readOpenedFile.mock.calls.at(-1)).toEqual([7, Number.MAX_SAFE_INTEGER]);
  });

  test("wait while the one before asks something", async () => {
    const { rerender, settle, brought } = open(shell([file(1, "a.abc")]), { isAsking: true });
    await settle();
    expect(brought).toEqual([]);
    rerender({ isAsking: false });
    await settle();
    expect(brought).toHaveLength(1);
  });

  test("an archive goes to the settings, and what was given after it waits until it was taken", async () => {
    const { result, settle, world, brought } = open(
      shell([file(1, "mine.reedpath", "archive"), file(2, "b.abc")]),
    );
    await settle();
    expect(world.onRoom.mock.calls).toEqual([["settings"]]);
    expect(result.current.archive?.name).toBe("mine.reedpath");
    expect(brought).toEqual([]);
    act(() => result.current.archiveTaken());
    await settle();
    expect(brought).toEqual(["b.abc: 2,2,2"]);
  });

  test("what was refused, or cannot be read, is told in its own words until that is closed", async () => {
    const of = shell([
      { kind: "refused", reason: "x.wav was not opened." },
      file(1, "a.abc"),
      file(2, "b.abc"),
    ]);
    of.bridge.readOpenedFile.mockResolvedValueOnce({
      kind: "failed",
      reason: "a.abc was not opened: the disk is gone.",
    });
    const { result, settle, brought } = open(of);
    await settle();
    expect(result.current.refused).toEqual([
      "x.wav was not opened.",
      "a.abc was not opened: the disk is gone.",
    ]);
    expect(brought).toEqual(["b.abc: 2,2,2"]);
    act(() => result.current.forgetRefused());
    expect(result.current.refused).toEqual([]);
  });

  test("the shell's word about the program is passed on, and its ear is closed with the window", async () => {
    const of = shell([]);
    const { unmount, settle, world } = open(of);
    await settle();
    act(() => of.ask("about"));
    expect(world.onAbout).toHaveBeenCalledOnce();
    expect(of.bridge.openedFiles).toHaveBeenCalledOnce();
    unmount();
    expect(of.end).toHaveBeenCalledOnce();
  });

  test("in a plain browser there is no shell, and nothing waits", async () => {
    const { result, settle } = open(null);
    await settle();
    expect([result.current.waiting, result.current.refused, result.current.archive]).toEqual([[], [], null]);
  });
});

describe("what a name says", () => {
  test("dropped files are told by their endings, whatever their letters", () => {
    const given = droppedFiles(
      ["a.ABC", "b.Mid", "c.gz", "d", "e.abc.zip"].map((name) => new File(["x"], name)),
    );
    expect(given.files.map(({ name, holds }) => [name, holds])).toEqual([
      ["a.ABC", "tunes"],
      ["b.Mid", "tunes"],
      ["c.gz", "archive"],
    ]);
    expect(given.refused).toEqual([
      "d was not opened: it is not tunes (ABC, MusicXML, MIDI) or an archive.",
      "e.abc.zip was not opened: it is not tunes (ABC, MusicXML, MIDI) or an archive.",
    ]);
  });

  test("a file that grew since it was opened is read as long as it was then", async () => {
    // [calc] it says 3 bytes and gives 9.
    const given = shellFiles([file(5, "a.abc", "tunes", 3)], shell([], 9).bridge);
    expect((await given.files[0]?.open())?.size).toBe(3);
  });
});
