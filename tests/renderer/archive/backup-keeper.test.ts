// @vitest-environment node
import { mkdtemp, readdir, rm } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { Backups } from "../../../electron/backups.ts";
import type { Backup, ReedpathBridge } from "../../../electron/bridge.ts";
import { GrowingFiles } from "../../../electron/growing-files.ts";
import { backUp, listBackups, readBackup } from "../../../renderer/archive/backup-files.ts";
import { BackupKeeper, type BackupWorld, IDLE_MS } from "../../../renderer/archive/backup-keeper.ts";
import { newEntry } from "../store-entries.ts";
import { Machine } from "./machines.ts";

const backup = (atEpochMs: number): Backup => ({ name: "b", atEpochMs, attempts: 1, sizeBytes: 1 });

/** A world whose clock the test turns. */
function pretendWorld(changes: Partial<BackupWorld> = {}) {
  const saved: number[] = [];
  let waiting: { readonly ms: number; readonly act: () => void } | null = null;
  const world: BackupWorld = {
    newest: async () => null,
    history: async () => ({ attempts: 7, lastAtEpochMs: 1000 }),
    backUp: async (attempts) => void saved.push(attempts),
    after: (ms, act) => {
      const mine = { ms, act };
      waiting = mine;
      return () => {
        if (waiting === mine) waiting = null;
      };
    },
    ...changes,
  };
  return { world, saved, waiting: () => waiting };
}

const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

describe("when to back up", () => {
  test.each([
    ["there is no backup", null, 1],
    ["the last attempt is newer than the newest backup", backup(999), 1],
    ["the newest backup has it all", backup(1000), 0],
  ])("at the start, where %s", async (_, newest, times) => {
    const { world, saved } = pretendWorld({ newest: async () => newest });
    await new BackupKeeper(world).start();
    expect(saved).toEqual(times === 0 ? [] : [7]);
  });

  test("not at the start where nothing was ever kept", async () => {
    const { world, saved } = pretendWorld({ history: async () => null });
    await new BackupKeeper(world).start();
    expect(saved).toEqual([]);
  });

  test("two minutes after the last attempt of a session, not after each", async () => {
    const { world, saved, waiting } = pretendWorld();
    const keeper = new BackupKeeper(world);
    keeper.attemptKept();
    const first = waiting();
    keeper.attemptKept();
    expect(waiting()).not.toBe(first);
    expect(waiting()?.ms).toBe(IDLE_MS);
    expect(IDLE_MS).toBe(2 * 60 * 1000); // [calc] two minutes
    expect(saved).toEqual([]);
    waiting()?.act();
    await settled();
    expect(saved).toEqual([7]);
    expect(keeper.getState()).toEqual({ saved: 1, trouble: null });
    keeper.attemptKept();
    keeper.dispose();
    expect(waiting()).toBeNull();
  });

  test("what goes wrong is told, and the next session tries again", async () => {
    let full = true;
    const { world, waiting } = pretendWorld({
      backUp: async () => {
        if (full) throw new Error("The backup was not saved: the disk is full.");
      },
    });
    const keeper = new BackupKeeper(world);
    let told = 0;
    keeper.subscribe(() => {
      told += 1;
    });
    await keeper.start();
    expect(keeper.getState()).toEqual({ saved: 0, trouble: "The backup was not saved: the disk is full." });
    full = false;
    keeper.attemptKept();
    waiting()?.act();
    await settled();
    expect(keeper.getState()).toEqual({ saved: 1, trouble: null });
    expect(told).toBe(2);
  });
});

describe("a backup on the disk", () => {
  let folder = "";
  beforeEach(async () => {
    folder = await mkdtemp(path.join(os.tmpdir(), "reedpath-keeper-"));
  });
  afterEach(() => rm(folder, { recursive: true }));

  /** The shell's own parts, without Electron between. */
  function bridgeTo(backups: Backups): ReedpathBridge {
    const growing = new GrowingFiles((name) => `${name} was not saved.`);
    const part: Partial<ReedpathBridge> = {
      beginBackup: async (attempts) => {
        const file = await backups.begin(attempts);
        return growing.begin(file, {
          name: "The backup",
          finish: () => backups.finish(file),
          abandon: () => backups.abandon(file),
        });
      },
      addToFile: (id, bytes) => growing.add(id, bytes),
      finishFile: (id) => growing.finish(id),
      abandonFile: (id) => growing.abandon(id),
      backups: async () => ({ kind: "backups", backups: await backups.list() }),
      readBackup: async (name, from) => ({ kind: "read", bytes: await backups.read(name, from) }),
    };
    return part as ReedpathBridge;
  }

  test("is an archive without takes, and brings everything else back on another machine", async () => {
    const machine = new Machine();
    for (let n = 0; n < 3; n++) await machine.history.save(newEntry({ atEpochMs: 1000 * n }));
    const bridge = bridgeTo(new Backups(folder));
    const work = {
      save: async (withTakes: boolean, sink: Parameters<Parameters<typeof backUp>[1]["save"]>[1]) => {
        await sink.add(new Uint8Array(await (await machine.archive(withTakes)).arrayBuffer()));
        return sink.finish();
      },
    };
    await backUp(bridge, work, 3);
    const [kept] = await listBackups(bridge);
    expect(kept).toMatchObject({ attempts: 3 });
    const other = new Machine();
    const file = await readBackup(bridge, kept?.name ?? "");
    expect(await other.look(file)).toMatchObject({
      kind: "archive",
      summary: { counts: { attempt: 3, take: 0 } },
    });
    expect(await other.bringIn(file)).toMatchObject({ attempt: 3 });
    const titles = async ({ history }: Machine) => (await history.list()).map(({ id, title }) => [id, title]);
    expect(await titles(other)).toEqual(await titles(machine));
    expect(await other.differences()).toEqual([]);
  });

  test("a backup that breaks off leaves the old ones, and is told", async () => {
    const bridge = bridgeTo(new Backups(folder));
    const whole = { save: async (_: boolean, sink: { finish: () => Promise<never> }) => sink.finish() };
    await backUp(bridge, whole as never, 1);
    const before = await readdir(folder);
    const broken = {
      save: async (
        _: boolean,
        sink: { add: (bytes: Uint8Array) => Promise<void>; abandon: () => Promise<void> },
      ) => {
        await sink.add(new Uint8Array(5));
        await sink.abandon();
        throw new Error("the window was closed");
      },
    };
    await expect(backUp(bridge, broken as never, 2)).rejects.toThrow("the window was closed");
    expect(await readdir(folder)).toEqual(before);
  });
});
