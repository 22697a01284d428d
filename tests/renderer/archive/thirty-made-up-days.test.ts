// @vitest-environment node
import { expect, test } from "vitest";
import { checkValue } from "../../../core/archive/record-shapes.ts";
import { DIAGNOSIS_KINDS } from "../../../core/score/attempt.ts";
import { entryOfDemo, madeUpDays } from "../../../renderer/app/demo-entries.ts";
import { bytesOf, Machine } from "./machines.ts";

const DAYS = [...madeUpDays({ zone: "Europe/Dublin", lastBeginsEpochMs: Date.UTC(2026, 9, 1, 18) })];
const ENTRIES = DAYS.flat().map((made, n) => entryOfDemo(made, `made-up-${String(n).padStart(4, "0")}`));

test("every attempt of thirty days, at drills, bends and tunes, is as the archive describes attempts", () => {
  const kinds = new Set(ENTRIES.map(({ exercise }) => exercise.kind));
  expect(kinds.size).toBeGreaterThan(2);
  expect(kinds).toContain("tune");
  const slips = new Set(
    ENTRIES.flatMap(({ attempt }) => attempt.marks.map(({ diagnosis }) => diagnosis?.kind ?? null)),
  );
  expect(DIAGNOSIS_KINDS.some((kind) => slips.has(kind))).toBe(true);
  for (const { id, take: _, ...value } of ENTRIES)
    expect([id, checkValue("attempt", JSON.parse(JSON.stringify(value)))]).toEqual([id, null]);
});

test("they are brought in whole by another machine, and their archive is the same there", async () => {
  const some = ENTRIES.filter((_, n) => n % 6 === 0);
  const [here, there] = [new Machine(), new Machine()];
  await here.attempts.keepMany(some);
  const file = await here.archive();
  expect(await there.look(file)).toMatchObject({
    kind: "archive",
    unreadable: 0,
    summary: { demo: some.length },
  });
  expect(await there.bringIn(file)).toMatchObject({ attempt: some.length });
  expect((await bytesOf(await there.archive())).equals(await bytesOf(file))).toBe(true);
  expect(await there.differences()).toEqual([]);
});
