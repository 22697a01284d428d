// @vitest-environment happy-dom
import { act, renderHook } from "@testing-library/react";
import { expect, test } from "vitest";
import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import type { ItemRow } from "../../core/progress/revisit/revisit.ts";
import { useHistory } from "../../renderer/app/use-history.ts";
import { usePlan } from "../../renderer/app/use-plan.ts";
import { MemoryHistoryStore } from "../../renderer/store/memory-history-store.ts";
import { FIRST_SETTINGS } from "../../renderer/store/settings-store.ts";
import { drillsOf, randomEntries, worldOf } from "./plan-world.ts";
import { newEntry } from "./store-entries.ts";

const NOON = Date.UTC(2026, 10, 28, 12);
const ENTRIES = randomEntries(1, 12, NOON);

/** A world whose items come when they are let through. */
async function slowWorld() {
  const world = await worldOf(ENTRIES, [], NOON);
  const items = await world.progress.items();
  const waiting: ((rows: readonly ItemRow[]) => void)[] = [];
  const letThrough = async () => {
    await act(async () => {
      for (const go of waiting.splice(0)) go(items);
      await new Promise((resolve) => setTimeout(resolve, 30));
    });
  };
  let readings = 0;
  const slow = {
    ...world,
    zone: () => "Europe/Dublin",
    progress: {
      items: () => {
        readings += 1;
        return new Promise<readonly ItemRow[]>((resolve) => waiting.push(resolve));
      },
      wishes: () => world.progress.wishes(),
      wish: async () => {},
    },
  };
  return { slow, letThrough, readings: () => readings };
}

interface Asked {
  readonly isWanted: boolean;
  readonly version: number;
  readonly drills: DrillSetting;
}

async function opened() {
  const { slow, letThrough, readings } = await slowWorld();
  const drills = drillsOf(ENTRIES);
  const hook = renderHook(
    (asked: Asked) =>
      usePlan(slow, { settings: FIRST_SETTINGS, onSettings: () => {}, onStart: () => {}, ...asked }),
    { initialProps: { isWanted: true, version: 0, drills } },
  );
  const ask = (part: Partial<Asked>) => hook.rerender({ isWanted: true, version: 0, drills, ...part });
  return { hook, ask, letThrough, readings };
}

test("who leaves Today while the plan is read finds it read when he is back", async () => {
  const { hook, ask, letThrough, readings } = await opened();
  expect(hook.result.current.view.kind).toBe("reading");
  ask({ isWanted: false });
  await letThrough();
  ask({ isWanted: true });
  expect(hook.result.current.view.kind).toBe("plan");
  // He is back, so it is read anew beside it: a tune may have been chosen in the meantime.
  expect(readings()).toBe(2);
});

test("who is back before it is read waits for the same reading", async () => {
  const { hook, ask, letThrough, readings } = await opened();
  ask({ isWanted: false });
  ask({ isWanted: true });
  expect(readings()).toBe(1);
  await letThrough();
  expect(hook.result.current.view.kind).toBe("plan");
});

test("a history that changed meanwhile is read anew, and the first reading is given up", async () => {
  const { hook, ask, letThrough, readings } = await opened();
  ask({ version: 1 });
  expect(readings()).toBe(2);
  await letThrough();
  expect(hook.result.current.view.kind).toBe("plan");
});

test("stopped, it says so and begins again when asked", async () => {
  const { hook, letThrough } = await opened();
  const { view } = hook.result.current;
  if (view.kind !== "reading") throw new Error(`the plan is ${view.kind}`);
  act(() => view.onStop());
  await letThrough();
  const stopped = hook.result.current.view;
  if (stopped.kind !== "trouble") throw new Error(`the plan is ${stopped.kind}`);
  expect(stopped.words).toBe("Stopped. Nothing was changed.");
  act(() => stopped.onAgain());
  await letThrough();
  expect(hook.result.current.view.kind).toBe("plan");
});

test("the history is read again on the way to a screen that shows it, if it changed and only then", async () => {
  const store = new MemoryHistoryStore(() => "one");
  const listeners = new Set<() => void>();
  const onChange = (listener: () => void) => {
    listeners.add(listener);
    return () => void listeners.delete(listener);
  };
  const hook = renderHook(() => useHistory(store, onChange));
  const settle = () => act(() => new Promise<void>((resolve) => setTimeout(resolve, 10)));
  await settle();
  const looked = () => ({
    version: hook.result.current.version,
    attempts: hook.result.current.recent?.length,
  });
  expect(looked()).toEqual({ version: 0, attempts: 0 });
  hook.result.current.lookAgain();
  await settle();
  expect(looked()).toEqual({ version: 0, attempts: 0 });
  await store.save(newEntry());
  for (const tell of listeners) tell();
  hook.result.current.lookAgain();
  await settle();
  expect(looked()).toEqual({ version: 1, attempts: 1 });
  hook.unmount();
  expect(listeners.size).toBe(0);
});
