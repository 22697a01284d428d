import { cleanup, renderHook, waitFor } from "@testing-library/react";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { ReedpathBridge } from "../../../electron/bridge.ts";
import { createArchiving } from "../../../renderer/app/archiving.ts";
import type { PersistenceAsking } from "../../../renderer/app/persistence.ts";
import { useAfterAttempts } from "../../../renderer/app/use-after-attempts.ts";
import { ReedpathDatabase } from "../../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../../renderer/store/dexie-history-store.ts";
import { countingIds, newEntry } from "../store-entries.ts";

afterEach(cleanup);

function world(bridge: ReedpathBridge | null, now: Awaited<ReturnType<PersistenceAsking["now"]>>) {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  const history = new DexieHistoryStore(database, countingIds());
  const archiving = createArchiving(database, history, bridge);
  const persistence = { now: vi.fn(async () => now), ask: vi.fn(async () => "promised" as const) };
  return { history, archiving, persistence, hook: { archiving, history, persistence } };
}

describe("once an attempt was kept", () => {
  test("a browser is asked to keep it, with the first one only", async () => {
    const { history, persistence, hook } = world(null, "not promised");
    renderHook(() => useAfterAttempts(hook));
    expect(persistence.ask).not.toHaveBeenCalled();
    await history.save(newEntry());
    await waitFor(() => expect(persistence.ask).toHaveBeenCalledOnce());
    await history.save(newEntry());
    await history.count({});
    expect(persistence.ask).toHaveBeenCalledOnce();
  });

  test("a browser that promised already is not asked", async () => {
    const { history, persistence, hook } = world(null, "promised");
    renderHook(() => useAfterAttempts(hook));
    await history.save(newEntry());
    await waitFor(() => expect(persistence.now).toHaveBeenCalled());
    expect(persistence.ask).not.toHaveBeenCalled();
  });

  test("the desktop's backup that failed is told", async () => {
    const bridge = {
      backups: async () => ({ kind: "backups", backups: [] }),
      beginBackup: async () => ({ kind: "failed", reason: "The backup was not saved: the disk is full." }),
    } as unknown as ReedpathBridge;
    const { history, hook } = world(bridge, "own folder");
    await history.save(newEntry());
    const { result } = renderHook(() => useAfterAttempts(hook));
    await waitFor(() => expect(result.current).toBe("The backup was not saved: the disk is full."));
  });
});
