import { gunzipSync, gzipSync } from "node:zlib";
import fc from "fast-check";
import { expect, test } from "vitest";
import { type ArchiveItem, archiveItems } from "../../../core/archive/archive-items.ts";
import {
  ATTEMPT_HEADINGS,
  attemptRow,
  noteRows,
  type TabledAttempt,
} from "../../../core/archive/history-table.ts";
import { DamagedFile, readArchive } from "../../../core/archive/read-archive.ts";
import { rollUp } from "../../../core/progress/counts/roll-ups.ts";
import { factOf } from "../../../core/progress/counts/session-fact.ts";
import { archiveText, everyKind } from "../../support/archives.ts";

const WHOLE = archiveText(everyKind());
const PACKED = gzipSync(WHOLE);
const RUNS = { numRuns: 400 };

/** As a window or a command would unpack it. */
async function* unpacked(packed: Uint8Array): AsyncGenerator<string> {
  let bytes: Uint8Array;
  try {
    bytes = gunzipSync(packed, { maxOutputLength: 50_000_000 });
    yield new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new DamagedFile("damaged");
  }
}

/** What is left of a file, and how it ended; anything thrown is a fault of ours. */
async function readAll(texts: AsyncIterable<string>) {
  const items: ArchiveItem[] = [];
  for await (const item of archiveItems(readArchive(texts))) {
    if (item.kind === "refused" || item.kind === "end") return { items, ended: item.kind };
    items.push(item);
  }
  throw new Error("it neither ended nor was refused");
}

async function* once(text: string) {
  yield text;
}

/** Whatever the reader lets through, all that is made of attempts can be made of. */
function useAll(items: readonly ArchiveItem[]): void {
  const attempts = items.flatMap((item) =>
    item.kind === "attempt" ? [{ ...(item.value as object), id: item.id } as TabledAttempt] : [],
  );
  rollUp(attempts.map(factOf));
  for (const attempt of attempts) {
    expect(attemptRow(attempt)).toHaveLength(ATTEMPT_HEADINGS.length);
    noteRows(attempt);
  }
}

test("a packed file cut anywhere is refused", async () => {
  await fc.assert(
    fc.asyncProperty(fc.nat(PACKED.length - 1), async (length) => {
      expect((await readAll(unpacked(PACKED.subarray(0, length)))).ended).toBe("refused");
    }),
    RUNS,
  );
});

// Bits 4 to 9 of a gzip file say when and where it was packed, and how hard; they change nothing of what it holds.
test("a packed file with one bit turned is refused, or says the very same", async () => {
  await fc.assert(
    fc.asyncProperty(fc.nat(PACKED.length - 1), fc.nat(7), async (place, bit) => {
      const turned = PACKED.map((byte, n) => (n === place ? byte ^ (1 << bit) : byte));
      const { items, ended } = await readAll(unpacked(turned));
      if (ended === "end") expect(items).toEqual((await readAll(unpacked(PACKED))).items);
      else expect(ended).toBe("refused");
    }),
    RUNS,
  );
});

test("a text cut anywhere is refused", async () => {
  await fc.assert(
    fc.asyncProperty(fc.nat(WHOLE.length - 1), async (length) => {
      expect((await readAll(once(WHOLE.slice(0, length)))).ended).toBe("refused");
    }),
    RUNS,
  );
});

test("a text with other letters in it ends or is refused, and what is left of it can be used", async () => {
  let used = 0;
  await fc.assert(
    fc.asyncProperty(fc.nat(WHOLE.length - 1), fc.nat(3), fc.string(), async (at, left, put) => {
      const { items } = await readAll(once(WHOLE.slice(0, at) + put + WHOLE.slice(at + left)));
      used += items.length;
      useAll(items);
    }),
    RUNS,
  );
  expect(used).toBeGreaterThan(0);
});

/** Values a field would not have. */
const strange = fc.oneof(
  fc.constantFrom<unknown>(null, true, -1, 0, 1e308, "", "=1+1", [], {}, [[]], { kind: "attempt" }),
  fc.jsonValue(),
);

test("a record with a strange value anywhere in it is refused, faulty or can be used", async () => {
  const records = everyKind();
  let letThrough = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.nat(records.length - 1),
      fc.infiniteStream(fc.nat()),
      fc.nat(8),
      strange,
      async (place, turns, depth, value) => {
        const changed = records.map((record, n) =>
          n === place ? { ...record, value: replaced(record.value, turns, depth, value) } : record,
        );
        const { items } = await readAll(once(archiveText(changed)));
        letThrough += items.length;
        useAll(items);
      },
    ),
    { numRuns: 1500 },
  );
  expect(letThrough).toBeGreaterThan(1500);
});

/** The value with one of its fields, at most so deep, replaced. */
function replaced(value: unknown, turns: Iterator<number>, depth: number, by: unknown): unknown {
  if (typeof value !== "object" || value === null || depth === 0) return by;
  const keys = Object.keys(value);
  const key = keys[(turns.next().value ?? 0) % Math.max(1, keys.length)];
  if (key === undefined) return by;
  const inside = replaced((value as Readonly<Record<string, unknown>>)[key], turns, depth - 1, by);
  if (Array.isArray(value)) return value.map((one, n) => (String(n) === key ? inside : one));
  return { ...value, [key]: inside };
}
