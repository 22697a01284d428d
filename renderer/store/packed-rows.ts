import type { Like } from "../../core/progress/counts/likeness.ts";
import { MEASURES, type Measured } from "../../core/progress/counts/measured.ts";
import { NO_COUNTS, type ReedCounts, type ReedTable } from "../../core/progress/counts/reed-counts.ts";
import type { GroupDay, ReedDay } from "../../core/progress/counts/roll-ups.ts";
import type { What } from "../../core/progress/counts/session-fact.ts";
import type { Sums } from "../../core/progress/counts/sums.ts";
import type { GroupDayRow, ReedDayRow } from "./rows.ts";
import { VarintReader, VarintWriter } from "./varints.ts";

/** Rows of a day's groups as they are stored: all that is counted is whole numbers, few of them large. */

export function packGroupDay({
  group,
  day,
  like,
  what,
  attempts,
  practisedMs,
  all,
  first,
  best,
}: GroupDay): GroupDayRow {
  const counts = new VarintWriter();
  counts.write(attempts);
  counts.write(practisedMs);
  writeMeasured(counts, all);
  if (attempts > 1) writeMeasured(counts, first.measured);
  return {
    group,
    day,
    what: JSON.stringify({ like, what }),
    firstId: first.id,
    firstAtEpochMs: first.atEpochMs,
    counts: counts.done(),
    best: Float64Array.from(MEASURES, (measure) => best[measure] ?? Number.NaN),
  };
}

export function unpackGroupDay(row: GroupDayRow): GroupDay {
  const counts = new VarintReader(row.counts);
  const attempts = counts.read();
  const practisedMs = counts.read();
  const all = readMeasured(counts);
  const measured = attempts > 1 ? readMeasured(counts) : all;
  const { like, what } = read(row.what);
  const best = MEASURES.flatMap((measure, place) => {
    const value = row.best[place] ?? Number.NaN;
    return Number.isNaN(value) ? [] : [[measure, value] as const];
  });
  return {
    group: row.group,
    day: row.day,
    item: like.item,
    like,
    what,
    attempts,
    practisedMs,
    all,
    first: { id: row.firstId, atEpochMs: row.firstAtEpochMs, measured },
    best: Object.fromEntries(best),
  };
}

/** A group's days all have one text, and reading JSON takes longer than the rest of a row. */
const known = new Map<string, { readonly like: Like; readonly what: What }>();
const MOST_KNOWN = 10_000;

function read(text: string): { readonly like: Like; readonly what: What } {
  const before = known.get(text);
  if (before !== undefined) return before;
  if (known.size >= MOST_KNOWN) known.clear();
  const made = JSON.parse(text);
  known.set(text, made);
  return made;
}

export function packReedDay({ group, day, harp, reeds, pairs, first }: ReedDay): ReedDayRow {
  const counts = new VarintWriter();
  for (const [table, ofFirst] of [
    [reeds, first.reeds],
    [pairs, first.pairs],
  ] as const) {
    for (const [name, all] of Object.entries(table)) {
      writeCounts(counts, all);
      // A name the first attempt lacks has no notes there.
      writeCounts(counts, ofFirst[name] ?? NO_COUNTS);
    }
  }
  return {
    group,
    day,
    harp,
    firstId: first.id,
    firstAtEpochMs: first.atEpochMs,
    names: [...Object.keys(reeds), "", ...Object.keys(pairs)].join("\n"),
    counts: counts.done(),
  };
}

export function unpackReedDay(row: ReedDayRow): ReedDay {
  const counts = new VarintReader(row.counts);
  const names = row.names.split("\n");
  const between = names.indexOf("");
  const reeds = readTables(counts, names.slice(0, between));
  const pairs = readTables(counts, names.slice(between + 1));
  return {
    group: row.group,
    harp: row.harp,
    day: row.day,
    reeds: reeds.all,
    pairs: pairs.all,
    first: { id: row.firstId, atEpochMs: row.firstAtEpochMs, reeds: reeds.first, pairs: pairs.first },
  };
}

function readTables(counts: VarintReader, names: readonly string[]) {
  const all: Record<string, ReedCounts> = {};
  const first: Record<string, ReedCounts> = {};
  for (const name of names) {
    all[name] = readCounts(counts);
    const ofFirst = readCounts(counts);
    if (ofFirst.asked > 0) first[name] = ofFirst;
  }
  return { all: all as ReedTable, first: first as ReedTable };
}

function writeCounts(to: VarintWriter, counts: ReedCounts): void {
  const { asked, wrong, missed, off, offBeat, troubled, cents, ms } = counts;
  to.write(asked);
  if (asked === 0) return;
  for (const count of [wrong, missed, off, offBeat, troubled]) to.write(count);
  writeSums(to, cents);
  writeSums(to, ms);
}

function readCounts(from: VarintReader): ReedCounts {
  const asked = from.read();
  if (asked === 0) return NO_COUNTS;
  return {
    asked,
    wrong: from.read(),
    missed: from.read(),
    off: from.read(),
    offBeat: from.read(),
    troubled: from.read(),
    cents: readSums(from),
    ms: readSums(from),
  };
}

function writeMeasured(
  to: VarintWriter,
  { notes, plainCents, bendCents, beatMs, onsetMs, evenness }: Measured,
): void {
  const { expected, hit, wrong, missed, notMeasured, extra } = notes;
  for (const count of [expected, hit, wrong, missed, notMeasured, extra]) to.write(count);
  for (const sums of [plainCents, bendCents, beatMs, onsetMs]) writeSums(to, sums);
  to.write(evenness.notes);
  to.write(evenness.squaresTenths);
}

function readMeasured(from: VarintReader): Measured {
  return {
    notes: {
      expected: from.read(),
      hit: from.read(),
      wrong: from.read(),
      missed: from.read(),
      notMeasured: from.read(),
      extra: from.read(),
    },
    plainCents: readSums(from),
    bendCents: readSums(from),
    beatMs: readSums(from),
    onsetMs: readSums(from),
    evenness: { notes: from.read(), squaresTenths: from.read() },
  };
}

function writeSums(to: VarintWriter, { n, sumTenths, squaresTenths }: Sums): void {
  to.write(n);
  to.write(sumTenths);
  to.write(squaresTenths);
}

const readSums = (from: VarintReader): Sums => ({
  n: from.read(),
  sumTenths: from.read(),
  squaresTenths: from.read(),
});
