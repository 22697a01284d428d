import { act, cleanup, fireEvent, render, screen } from "@testing-library/react";
import { Dexie } from "dexie";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import type { ReactNode } from "react";
import { afterEach, describe, expect, test } from "vitest";
import { openedDatabase } from "../../renderer/app/opening-database.tsx";
import { lineOf } from "../../renderer/store/history-entry.ts";
import { newEntry } from "./store-entries.ts";

afterEach(cleanup);

const engine = () => ({ indexedDB: new IDBFactory(), IDBKeyRange });

/** An attempt as version 2 kept it. */
async function keepAsVersion2(indexed: ReturnType<typeof engine>): Promise<void> {
  const before = new Dexie("reedpath", indexed);
  before.version(2).stores({ lines: "id, atEpochMs, tuneId", attempts: "id", takes: "id", settings: "id" });
  const { take: _, ...attempt } = { ...newEntry(), id: "old" };
  await before.table("lines").put(lineOf(attempt));
  await before.table("attempts").put(attempt);
  before.close();
}

/** A window that has it open and does not let go of it by itself. */
const heldOpen = ({ indexedDB }: ReturnType<typeof engine>): Promise<IDBDatabase> =>
  new Promise((resolve) => {
    const request = indexedDB.open("reedpath");
    request.onsuccess = () => resolve(request.result);
  });

/** Opens it in a window that is otherwise empty. */
function opening(indexed: ReturnType<typeof engine>) {
  const view = render(null);
  const shown: ReactNode[] = [];
  const opened = openedDatabase((content) => {
    shown.push(content);
    act(() => view.rerender(content));
  }, indexed);
  return { opened, shown };
}

describe("the database as the window opens", () => {
  test("shows nothing where there is nothing to bring over", async () => {
    const { opened, shown } = opening(engine());
    expect((await opened).isOpen()).toBe(true);
    expect(shown).toEqual([]);
  });

  test("says that another window has to be closed, and goes on once it is", async () => {
    const indexed = engine();
    await keepAsVersion2(indexed);
    const older = await heldOpen(indexed);
    const { opened } = opening(indexed);
    expect((await screen.findByRole("alert")).textContent).toMatch(/^Another window .* Close it/);
    older.close();
    const database = await opened;
    expect(await database.lines.count()).toBe(1);
  });

  test("stopped in the middle waits to be told to go on, and then brings everything over", async () => {
    const indexed = engine();
    await keepAsVersion2(indexed);
    const { opened } = opening(indexed);
    fireEvent.click(await screen.findByRole("button", { name: "Stop" }));
    const goOn = await screen.findByRole("button", { name: "Go on" });
    expect(document.activeElement).toBe(goOn);
    fireEvent.click(goOn);
    const database = await opened;
    expect(await database.lines.count()).toBe(1);
  });

  test("that cannot be had at all is given back closed, for its readers to say so", async () => {
    const none = { indexedDB: undefined, IDBKeyRange: undefined } as unknown as ReturnType<typeof engine>;
    const { opened, shown } = opening(none);
    expect((await opened).isOpen()).toBe(false);
    expect(shown).toEqual([]);
  });
});
