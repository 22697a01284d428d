import { act, cleanup, fireEvent, render, screen, waitFor } from "@testing-library/react";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import type { ReactNode } from "react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { broughtBack, NOTHING_BACK, openedAgain } from "../../renderer/app/bringing-back.tsx";
import { ReturnedNotice } from "../../renderer/app/returned-notice.tsx";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import type { LongWork } from "../../renderer/store/history-store.ts";
import { bringBack } from "../../renderer/store/second-copy/bring-back.ts";
import { closeWell, openWell } from "../../renderer/store/second-copy/open-well.ts";
import { keptByVersion } from "../support/kept-database.ts";
import { putBack } from "../support/kept-rows.ts";
import { countingIds, newEntry } from "./store-entries.ts";

afterEach(cleanup);

/** A browser whose first engine lost what it had. */
async function thrownAway(attempts: number) {
  const second = new IDBFactory();
  let reachable = true;
  const copyPlace = {
    open: async () => {
      if (!reachable) throw new DOMException("out of reach", "UnknownError");
      return { indexedDB: second, IDBKeyRange };
    },
    longestWaitMs: 60_000,
    isAlone: async () => true,
    inTurn: <T,>(work: () => Promise<T>) => work(),
  };
  const opened = async () => {
    const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange, copyPlace });
    await database.open();
    return database;
  };
  const before = await opened();
  await bringBack(before);
  await before.secondCopy?.fill();
  const history = new DexieHistoryStore(before, countingIds());
  for (let n = 0; n < attempts; n++) await history.save(newEntry({ take: null }));
  before.close();
  return {
    database: await opened(),
    lock: () => {
      reachable = false;
    },
  };
}

/** In a window that is otherwise empty. */
function inWindow() {
  const view = render(null);
  const shown: ReactNode[] = [];
  const show = (content: ReactNode) => {
    shown.push(content);
    act(() => view.rerender(content));
  };
  return { show, shown };
}

const here = (database: ReedpathDatabase) => (work: LongWork) => bringBack(database, work).then(() => {});

describe("a history that the browser threw away, as the window opens", () => {
  test("comes back before anything else is shown; how far that is can be seen", async () => {
    const { database } = await thrownAway(3);
    const { show, shown } = inWindow();
    const returned = await broughtBack(database, show, here(database));
    expect(returned).toEqual({ attempts: 3, left: 0, trouble: null, isAll: true });
    expect(shown.length).toBeGreaterThan(1);
    screen.getByText("Your history was damaged on the disk, and comes back out of its second copy …");
    expect(await database.lines.count()).toBe(3);
  });

  test("stopped, leaves the rest for the next time, and says how much", async () => {
    const { database } = await thrownAway(2);
    const { show } = inWindow();
    const waiting = broughtBack(database, show, async ({ signal }) => {
      await new Promise((resolve) => signal?.addEventListener("abort", resolve));
      signal?.throwIfAborted();
    });
    fireEvent.click(await screen.findByRole("button", { name: "Stop" }));
    const returned = await waiting;
    expect(returned).toEqual({ attempts: 0, left: 2, trouble: null, isAll: true });
    expect(await database.secondCopy?.isTakenOver()).toBe(false);
    cleanup();
    render(<ReturnedNotice returned={returned} />);
    screen.getByText(
      "The history was damaged on the disk. 0 attempts came back out of the second copy so far, 2 attempts not yet: open the window again, and the rest comes back.",
    );
  });

  test("that cannot be brought back opens all the same, and says why", async () => {
    const { database } = await thrownAway(2);
    const { show } = inWindow();
    const returned = await broughtBack(database, show, () => Promise.reject(new Error("the disk is full")));
    expect(returned).toMatchObject({ attempts: 0, left: 2, trouble: "the disk is full" });
    render(<ReturnedNotice returned={returned} />);
    screen.getByText(/2 attempts not yet \(the disk is full\)/);
  });

  test("opens where the copy cannot be reached, or there is none", async () => {
    const { database, lock } = await thrownAway(1);
    database.secondCopy?.close();
    lock();
    const { show, shown } = inWindow();
    const again = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
    await again.open();
    expect(await broughtBack(again, show)).toEqual(NOTHING_BACK);
    expect(await broughtBack(database, show)).toMatchObject({ attempts: 0, left: 0, isAll: false });
    expect(shown).toEqual([]);
  });

  test("is not spoken of where an earlier version's is opened, and the copy cannot be reached", async () => {
    const older = new IDBFactory();
    await putBack(older, "reedpath", keptByVersion(5));
    const copyPlace = {
      longestWaitMs: 60_000,
      open: () => Promise.reject(new DOMException("out of reach", "UnknownError")),
      isAlone: async () => true,
      inTurn: <T,>(work: () => Promise<T>) => work(),
    };
    const database = new ReedpathDatabase({ indexedDB: older, IDBKeyRange, copyPlace });
    await database.open();
    expect(await database.lines.count()).toBeGreaterThan(0);
    expect(await broughtBack(database, inWindow().show)).toMatchObject({ attempts: 0, left: 0 });
  });

  test("comes back as well where the database could not be opened before", async () => {
    const { database } = await thrownAway(2);
    database.close();
    await openedAgain(database, () => bringBack(database).then(() => {}));
    expect(await database.lines.count()).toBe(2);
    expect(await database.engine.toArray()).toEqual([{ id: "open" }]);
  });

  test("shows a new player nothing", async () => {
    const { database } = await thrownAway(0);
    const { show, shown } = inWindow();
    expect(await broughtBack(database, show)).toMatchObject({ attempts: 0, left: 0 });
    expect(shown).toEqual([]);
    expect(await database.secondCopy?.isTakenOver()).toBe(true);
  });
});

test("what came back is said until it was read", async () => {
  render(<ReturnedNotice returned={{ attempts: 1, left: 0, trouble: null, isAll: true }} />);
  screen.getByText(
    "The history was damaged on the disk. All of it came back out of the second copy: 1 attempt.",
  );
  fireEvent.click(screen.getByRole("button", { name: "I have read it" }));
  await waitFor(() => expect(screen.queryByRole("status")).toBeNull());
  cleanup();
  const { container } = render(<ReturnedNotice returned={NOTHING_BACK} />);
  expect(container.innerHTML).toBe("");
});

describe("the engine's log", () => {
  /** How often it is begun anew when the program is opened. */
  async function renewed(
    indexedDB: IDBFactory,
    second: IDBFactory,
    isAlone: boolean,
    bring: (database: ReedpathDatabase) => Promise<unknown> = bringBack,
  ) {
    const copyPlace = {
      open: async () => ({ indexedDB: second, IDBKeyRange }),
      longestWaitMs: 60_000,
      isAlone: async () => isAlone,
      inTurn: <T,>(work: () => Promise<T>) => work(),
    };
    const database = new ReedpathDatabase({ indexedDB, IDBKeyRange, copyPlace });
    await database.open();
    const copy = await database.secondCopy?.open();
    if (copy === undefined) throw new Error("there is no copy");
    const [first, other] = [vi.spyOn(database.engine, "bulkPut"), vi.spyOn(copy.engine, "bulkPut")];
    await openWell(database, () => bring(database));
    // The copy's is waited for by nobody but who waits for the copy.
    await database.copied();
    expect(await database.engine.toArray()).toEqual([{ id: "open" }]);
    return { database, first: first.mock.calls.length, copy: other.mock.calls.length };
  }

  test("is begun anew in both databases after a kill, not where the window was closed or another is open", async () => {
    const [one, other] = [new IDBFactory(), new IDBFactory()];
    expect(await renewed(one, other, true)).toMatchObject({ first: 0, copy: 0 });
    // [calc] the first log is put away for certain once the third is begun.
    expect(await renewed(one, other, true)).toMatchObject({ first: 2, copy: 2 });
    const open = await renewed(one, other, false);
    expect(open).toMatchObject({ first: 0, copy: 0 });
    closeWell(open.database);
    await vi.waitFor(async () => expect(await open.database.engine.count()).toBe(0));
    expect(await renewed(one, other, true)).toMatchObject({ first: 0, copy: 0 });
    // Killed in the middle of being opened for the first time, it was not closed either.
    const [cut, ofCut] = [new IDBFactory(), new IDBFactory()];
    const thenDie = async (database: ReedpathDatabase) => {
      await bringBack(database);
      throw new Error("killed");
    };
    await expect(renewed(cut, ofCut, true, thenDie)).rejects.toThrow("killed");
    expect(await renewed(cut, ofCut, true)).toMatchObject({ first: 2, copy: 2 });
    // An earlier version noted neither.
    const older = new IDBFactory();
    await putBack(older, "reedpath", keptByVersion(4));
    expect(await renewed(older, new IDBFactory(), true)).toMatchObject({ first: 2, copy: 0 });
    // Thrown away, the database has a new log; that of the copy may be torn.
    expect(await renewed(new IDBFactory(), other, true)).toMatchObject({ first: 0, copy: 2 });
  });
});
