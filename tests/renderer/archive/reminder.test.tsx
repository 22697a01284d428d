import { cleanup, render, screen } from "@testing-library/react";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { afterEach, describe, expect, test, vi } from "vitest";
import { Reminder } from "../../../renderer/archive/reminder.tsx";
import { atRisk, QUIET_MS } from "../../../renderer/archive/reminder-rule.ts";
import { ArchiveNotes } from "../../../renderer/store/archive-notes.ts";
import { ReedpathDatabase } from "../../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../../renderer/store/dexie-history-store.ts";
import { countingIds, newEntry } from "../store-entries.ts";

afterEach(cleanup);

const nothing = { saved: { attempts: 0, days: 0 }, quietUntilEpochMs: 0 };

describe("the reminder to save an archive", () => {
  test.each([
    ["19 attempts on 6 days are not enough", { attempts: 19, days: 6 }, nothing, null],
    ["20 attempts are", { attempts: 20, days: 1 }, nothing, { attempts: 20, days: 1 }],
    ["7 days are", { attempts: 9, days: 7 }, nothing, { attempts: 9, days: 7 }],
    [
      "they count from the last archive",
      { attempts: 139, days: 46 },
      { saved: { attempts: 120, days: 40 }, quietUntilEpochMs: 0 },
      null,
    ],
    [
      "attempts deleted since are no debt",
      { attempts: 5, days: 2 },
      { saved: { attempts: 120, days: 40 }, quietUntilEpochMs: 0 },
      null,
    ],
  ])("%s", (_, practised, note, since) => {
    expect(atRisk(practised, note, 1e12)).toEqual(since);
  });

  test("is quiet for a week, and not for longer because a clock was set back", () => {
    const practised = { attempts: 30, days: 1 };
    const quietUntil = (at: number) => ({ ...nothing, quietUntilEpochMs: at });
    expect(atRisk(practised, quietUntil(1e12 + 1000), 1e12)).toBeNull();
    expect(atRisk(practised, quietUntil(1e12), 1e12)).toEqual(practised);
    expect(atRisk(practised, quietUntil(1e12 + QUIET_MS + 1), 1e12)).toEqual(practised);
    expect(QUIET_MS).toBe(7 * 24 * 3600 * 1000); // [calc] a week
  });

  test("says how much is at risk and can be put off", () => {
    const onLater = vi.fn();
    const save = vi.fn();
    const archives = { state: { kind: "idle" }, save } as never;
    render(<Reminder since={{ attempts: 1234, days: 9 }} archives={archives} onLater={onLater} />);
    expect(screen.getByRole("complementary").textContent).toContain(
      "1,234 attempts are in no archive yet, only in this browser.",
    );
    screen.getByRole("button", { name: "Save an archive" }).click();
    screen.getByRole("button", { name: "Not this week" }).click();
    expect(save).toHaveBeenCalledExactlyOnceWith(true);
    expect(onLater).toHaveBeenCalledOnce();
  });
});

describe("what is remembered of archives", () => {
  const open = () => {
    const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
    return { notes: new ArchiveNotes(database), history: new DexieHistoryStore(database, countingIds()) };
  };

  test("what was made up is not practice", async () => {
    const { notes, history } = open();
    await history.save(newEntry());
    await history.save(newEntry({ demo: true, atEpochMs: 1_780_000_000_000 }));
    expect(await notes.practised()).toEqual({ attempts: 1, days: 1 });
  });

  test("what was practised when one was saved, and what came out of one", async () => {
    const { notes, history } = open();
    expect(await notes.read()).toEqual(nothing);
    await history.save(newEntry());
    await notes.quietUntil(5);
    expect(await notes.read()).toMatchObject({ quietUntilEpochMs: 5, saved: { attempts: 0 } });
    await notes.saved();
    expect(await notes.read()).toMatchObject({ quietUntilEpochMs: 0, saved: { attempts: 1, days: 1 } });
    await notes.broughtInBy(async () => {
      await history.save(newEntry({ atEpochMs: 1_780_000_000_000 }));
      await history.save(newEntry({ atEpochMs: 1_780_000_000_000 }));
    });
    expect(await notes.read()).toMatchObject({ saved: { attempts: 3, days: 2 } });
    expect(atRisk(await notes.practised(), await notes.read(), 1e12)).toBeNull();
  });
});
