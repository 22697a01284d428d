import { act, cleanup, fireEvent, render, renderHook, screen, waitFor } from "@testing-library/react";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { afterEach, describe, expect, test, vi } from "vitest";
import { browserPersistence } from "../../renderer/app/persistence.ts";
import { useKeeping } from "../../renderer/app/use-keeping.ts";
import type { Keeping } from "../../renderer/settings/keeping.ts";
import { KeptGroup } from "../../renderer/settings/kept-group.tsx";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import { FIRST_SETTINGS, TAKES_LIMIT_MB } from "../../renderer/store/settings-store.ts";
import { bytesInWords } from "../../renderer/ui/bytes.ts";
import { NOTHING_KEPT } from "./keeping-double.ts";
import { MemoryRunningTakes } from "./memory-running-takes.ts";
import { countingIds, newEntry } from "./store-entries.ts";

afterEach(cleanup);

const space = (changes: Partial<Extract<Keeping["space"], { kind: "read" }>["space"]>): Keeping["space"] => ({
  kind: "read",
  space: { takes: 0, takeBytes: 0, withoutTake: 0, usedBytes: null, quotaBytes: null, ...changes },
});

function shown(changes: Partial<Keeping>, limitMb = FIRST_SETTINGS.takesLimitMb) {
  const onChange = vi.fn();
  render(
    <KeptGroup
      settings={{ ...FIRST_SETTINGS, takesLimitMb: limitMb }}
      onChange={onChange}
      keeping={{ ...NOTHING_KEPT, ...changes }}
    />,
  );
  return { onChange };
}

describe("what is kept, in words", () => {
  test("is counted in thousands of bytes, three digits at most", () => {
    // [calc] IEC 80000-13: k, M and G are powers of a thousand.
    expect([0, 1, 1499, 999_499, 999_500, 1_449_999, 12_345_678, 2.5e9].map(bytesInWords)).toEqual([
      "0 kB",
      "1 kB",
      "1 kB",
      "999 kB",
      "1.0 MB",
      "1.4 MB",
      "12 MB",
      "2.5 GB",
    ]);
  });

  test("are the takes, what they need, and the attempts without one", () => {
    shown({
      space: space({ takes: 312, takeBytes: 96e6, withoutTake: 40, usedBytes: 210e6, quotaBytes: 12e9 }),
    });
    const said =
      "312 takes, 96 MB. 40 attempts have no take; the marks are all there. Together with everything else 210 MB, of 12 GB there is room for.";
    expect(screen.getByText(said)).toBeTruthy();
  });

  test("what goes beyond the room is said, and dropped when the player says so", () => {
    const onFitTakes = vi.fn();
    shown({ onFitTakes, space: space({ takes: 1000, takeBytes: 540e6 }) }, 500);
    expect(screen.getByText(/^40 MB more than that/)).toBeTruthy(); // [calc] 540 - 500
    fireEvent.click(screen.getByRole("button", { name: "Drop them now" }));
    expect(onFitTakes).toHaveBeenCalledOnce();
  });

  test("the room for takes is set in a field that takes no impossible number", () => {
    const { onChange } = shown({});
    const field = screen.getByLabelText(/Room for takes/);
    fireEvent.change(field, { target: { value: String(TAKES_LIMIT_MB.low - 1) } });
    expect(onChange).not.toHaveBeenCalled();
    fireEvent.change(field, { target: { value: "500" } });
    expect(onChange).toHaveBeenCalledExactlyOnceWith("Room for takes", { takesLimitMb: 500 });
  });

  test("a check says how far it is, can be stopped, and tells what it found and did", () => {
    const onStopCheck = vi.fn();
    shown({ check: { kind: "checking", share: 0.25 }, onStopCheck });
    expect(screen.getByRole("progressbar").getAttribute("value")).toBe("0.25");
    fireEvent.click(screen.getByRole("button", { name: "Stop" }));
    expect(onStopCheck).toHaveBeenCalledOnce();
    cleanup();
    const verified = { attempts: 1200, unreadable: 1, differences: ["a day"], different: 1, repaired: true };
    shown({ check: { kind: "done", verified } });
    expect(screen.getByText(/^1,200 attempts counted anew: 1 difference, put right\./)).toBeTruthy();
    expect(screen.getByText(/1 attempt was marked by a newer version/)).toBeTruthy();
    expect(screen.getByText("a day")).toBeTruthy();
    cleanup();
    shown({ check: { kind: "trouble", words: "The disk is full." } });
    expect(screen.getByRole("alert").textContent).toBe("The disk is full.");
  });
});

describe("whether the browser keeps it", () => {
  test.each([
    ["promised already", true, true, "promised", "promised"],
    ["asked and promised", false, true, "not promised", "promised"],
    ["asked and refused", false, false, "not promised", "refused"],
  ] as const)("%s", async (_, persisted, persist, before, after) => {
    const asking = browserPersistence(
      { persisted: async () => persisted, persist: async () => persist },
      false,
    );
    expect([await asking.now(), await asking.ask()]).toEqual([before, after]);
  });

  test("is not asked in the shell, and not known where nothing can be asked", async () => {
    expect(await browserPersistence(undefined, true).now()).toBe("own folder");
    expect(await browserPersistence(undefined, false).now()).toBe("unknown");
    const failing = async () => Promise.reject(new TypeError("no"));
    expect(await browserPersistence({ persisted: failing, persist: failing }, false).ask()).toBe("unknown");
  });

  test("deletes all takes only when asked twice", () => {
    const onDropTakes = vi.fn();
    const space = { takes: 3, takeBytes: 9e6, withoutTake: 0, usedBytes: null, quotaBytes: null };
    shown({ onDropTakes, space: { kind: "read", space } });
    fireEvent.click(screen.getByRole("button", { name: "Delete all takes …" }));
    expect(onDropTakes).not.toHaveBeenCalled();
    fireEvent.click(screen.getByRole("button", { name: "Keep it" }));
    fireEvent.click(screen.getByRole("button", { name: "Delete all takes …" }));
    fireEvent.click(screen.getByRole("button", { name: "Delete all takes" }));
    expect(onDropTakes).toHaveBeenCalledOnce();
  });

  test("is asked at one press, and not where it is promised", () => {
    const onAskToKeep = vi.fn();
    shown({ onAskToKeep });
    fireEvent.click(screen.getByRole("button", { name: "Ask it to keep it" }));
    expect(onAskToKeep).toHaveBeenCalledOnce();
    cleanup();
    shown({ persistence: "promised" });
    expect(screen.queryByRole("button", { name: /^Ask it/ })).toBeNull();
  });
});

describe("a history in the database", () => {
  const persistence = browserPersistence(undefined, false);
  const opened = async () => {
    const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
    const store = new DexieHistoryStore(database, countingIds());
    await store.save(newEntry());
    const upkeep = new DexieHistoryUpkeep(database);
    const runningTakes = new MemoryRunningTakes();
    const nowEpochMs = () => 0;
    const secondCopy = { standing: async () => "being made" as const };
    const { result } = renderHook(() =>
      useKeeping({ upkeep, persistence, runningTakes, secondCopy, nowEpochMs }),
    );
    await waitFor(() => expect(result.current.space.kind).toBe("read"));
    return { database, result, runningTakes };
  };

  test("is looked at when the settings are entered", async () => {
    const { result } = await opened();
    expect(result.current.space).toMatchObject({ space: { takes: 1, withoutTake: 0 } });
    expect(result.current.needsRecount).toBe(false);
    expect(result.current.copy).toBe("being made");
  });

  test("is checked and found to agree, and a day that is lost is found and put right", async () => {
    const { database, result } = await opened();
    await act(async () => result.current.onCheck());
    await waitFor(() => expect(result.current.check).toMatchObject({ kind: "done" }));
    expect(result.current.check).toMatchObject({ verified: { attempts: 1, different: 0 } });
    await database.days.clear();
    await act(async () => result.current.onCheck());
    await waitFor(() => expect(result.current.check).toMatchObject({ verified: { different: 1 } }));
    expect(result.current.check).toMatchObject({ verified: { repaired: true } });
    expect(await database.days.count()).toBe(1);
  });

  test("all takes go at one wish that is asked for twice, those that broke off among them", async () => {
    const { database, result, runningTakes } = await opened();
    const left = runningTakes.begin();
    const { atEpochMs, zone, exercise } = newEntry();
    const head = { atEpochMs, zone, exercise, way: "in time", latencyMs: 0, sampleRateHz: 48_000 } as const;
    left.add({ ...head, beatZeroSeconds: null }, new Float32Array(10));
    left.leave();
    await act(async () => result.current.onDropTakes());
    await waitFor(() => expect(result.current.space).toMatchObject({ space: { takes: 0, withoutTake: 1 } }));
    expect(await database.takes.count()).toBe(0);
    expect(runningTakes.takes.size).toBe(0);
  });

  test("a check that is stopped says so", async () => {
    const { result } = await opened();
    act(() => result.current.onCheck());
    act(() => result.current.onStopCheck());
    await waitFor(() => expect(result.current.check).toEqual({ kind: "stopped" }));
  });
});
