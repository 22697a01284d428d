import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { planDay, seedOfDay } from "../../core/progress/plan/plan.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import { run } from "../../electron/headless.ts";
import { readPlanInput } from "../../renderer/app/plan-input.ts";
import { tunesForPlan } from "../../renderer/app/plan-tunes.ts";
import type { TuneStudy } from "../../renderer/store/tune-store.ts";
import { type Repertoire, standingOf } from "../../renderer/tunes/repertoire-view.ts";
import { archiveText } from "../support/archives.ts";
import { drillsOf, RULES, randomEntries, recordsOf, TUNES, worldOf } from "./plan-world.ts";

const TODAY = "2026-11-28" as PracticeDay;
const NOON = Date.parse(`${TODAY}T12:00:00Z`);
const ATTEMPTS = 40;
const HISTORIES = [1, 2, 3, 4].map((seed) => ({ seed, entries: randomEntries(seed, ATTEMPTS, NOON) }));

/** The first tune that comes along stands where the player says; in every other history it does not. */
const studiesOf = (seed: number): readonly TuneStudy[] => {
  const [first] = TUNES;
  return first === undefined || seed % 2 === 0 ? [] : [{ id: first.id, status: "resting" }];
};

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "reedpath-plan-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("on any history", () => {
  test("the plan has each tune where the list has it", async () => {
    const found = new Set<string>();
    for (const { seed, entries } of HISTORIES) {
      const studies = studiesOf(seed);
      const world = await worldOf(entries, studies, NOON);
      const items = await world.progress.items();
      const planned = await tunesForPlan(items, seed, world, new AbortController().signal);
      const repertoire: Repertoire = {
        studies: new Map(studies.map((study) => [study.id, study])),
        tries: await world.history.triesAtAll(),
        rule: RULES.ladder,
        nowEpochMs: NOON,
      };
      for (const tune of TUNES) {
        const { status } = standingOf(tune, repertoire);
        const inPlan = planned.find(({ tuneId }) => tuneId === tune.id);
        // Of those nobody began one stands for all.
        if (inPlan === undefined) expect(status).toBe("new");
        else expect(inPlan.status).toBe(status);
        found.add(status);
      }
    }
    expect(found).toEqual(new Set(["new", "learning", "at tempo", "resting"]));
  }, 60_000);

  test("window and command make the same plan of it, next rungs and weak pairs of both harps too", async () => {
    const parts = new Set<string>();
    for (const { seed, entries } of HISTORIES) {
      const studies = studiesOf(seed);
      const world = await worldOf(entries, studies, NOON);
      const wanted = { minutes: 60, day: TODAY, drills: drillsOf(entries), known: "mixed" } as const;
      const input = await readPlanInput(world, wanted, new AbortController().signal);
      expect(input.seed).toBe(seedOfDay(TODAY));
      const { lines } = planDay(input);

      const file = path.join(folder, `${seed}.gz`);
      writeFileSync(file, gzipSync(archiveText(recordsOf(entries, studies))));
      let stdout = "";
      const io = {
        stdout: (text: string) => {
          stdout += text;
        },
        stderr: () => {},
      };
      expect(await run(["plan", file, "--day", TODAY, "--minutes", "60"], io)).toBe(0);
      expect(JSON.parse(stdout).lines).toEqual(JSON.parse(JSON.stringify(lines)));
      for (const line of lines) {
        if (line.kind === "rest") continue;
        for (const { recipe, harp } of line.parts) parts.add(`${line.kind}: ${recipe.kind} ${harp}`);
      }
    }
    expect([...parts]).toEqual(
      expect.arrayContaining(["weak pair: drill D harp", "new: tune ", "whole tune: tune "]),
    );
  }, 60_000);
});
