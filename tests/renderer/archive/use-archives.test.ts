import { act, cleanup, renderHook } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { NO_RECORDS } from "../../../core/archive/archive-format.ts";
import type { ArchiveWork } from "../../../renderer/archive/archive-work.ts";
import { type LookedAt, useArchives } from "../../../renderer/archive/use-archives.ts";

afterEach(cleanup);

const counts = { ...NO_RECORDS, attempt: 7 };
const summary = { counts, starred: 0, demo: 0, days: null };
const AT: LookedAt = {
  name: "evening.gz",
  file: new Blob([]),
  look: { kind: "archive", summary, fresh: counts, isUnused: false, unreadable: 0, faults: [] },
};

function archivesWith(bringIn: ArchiveWork["bringIn"]) {
  const onChanged = vi.fn(async () => {});
  const work = { bringIn } as unknown as ArchiveWork;
  const setting = { work, name: () => "", onSaved: async () => {}, onChanged, wipe: async () => {} };
  const { result } = renderHook(() => useArchives(setting));
  return { result, onChanged };
}

describe("bringing an archive in", () => {
  test("says what came in, and has everything read again", async () => {
    const { result, onChanged } = archivesWith(async () => ({ ...NO_RECORDS, attempt: 2 }));
    await act(async () => result.current.bringIn(AT, false));
    expect(onChanged).toHaveBeenCalledWith("Brought in: 2 attempts.");
  });

  test("stopped, says that what came in stays, and has everything read again too", async () => {
    const { result, onChanged } = archivesWith(
      (_, __, { signal }) =>
        new Promise((_resolve, reject) => signal?.addEventListener("abort", () => reject(signal.reason))),
    );
    act(() => result.current.bringIn(AT, false));
    expect(result.current.state).toMatchObject({ kind: "busy", words: "Bringing in evening.gz" });
    await act(async () => result.current.stop());
    expect(onChanged).toHaveBeenCalledWith(expect.stringMatching(/^Stopped\. What came in so far is whole/));
  });

  test("that fails says why, and has nothing read again", async () => {
    const { result, onChanged } = archivesWith(async () => {
      throw new Error("the disk is full");
    });
    await act(async () => result.current.bringIn(AT, false));
    expect(result.current.state).toEqual({ kind: "trouble", words: "The disk is full." });
    expect(onChanged).not.toHaveBeenCalled();
  });
});
