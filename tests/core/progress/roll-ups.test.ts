import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { measureValue } from "../../../core/progress/counts/measured.ts";
import {
  groupDayOf,
  itemDayOf,
  mergeGroupDays,
  mergeItemDays,
  mergeReedDays,
  reedDayOf,
  rollUp,
} from "../../../core/progress/counts/roll-ups.ts";
import type { SessionFact } from "../../../core/progress/counts/session-fact.ts";
import { deviationOf, meanOf, sumsOf } from "../../../core/progress/counts/sums.ts";
import { sampleDeviation } from "../../../core/score/statistics.ts";
import { bpm } from "../../../core/units.ts";
import { counts, fact, measured } from "../../support/session-facts.ts";

describe("sums", () => {
  test("give mean and deviation of what was summed, to the tenth they keep", () => {
    // [X] sampleDeviation of core/score, which goes over the values twice. 0.1 cent: what rounding to tenths can move.
    const values = [-12.3, 4.5, 18.9, 0, 7.2, -3.4];
    // [calc] 14.9 / 6
    expect(meanOf(sumsOf(values))).toBeCloseTo(2.4833, 4);
    expect(deviationOf(sumsOf(values))).toBeCloseTo(sampleDeviation(values) ?? 0, 10);
    expect(meanOf(sumsOf([]))).toBeNull();
    expect(deviationOf(sumsOf([5]))).toBeNull();
  });
});

const anyFact = fc
  .record({
    hour: fc.integer({ min: 5, max: 26 }),
    id: fc.uuid(),
    cents: fc.array(fc.double({ min: -50, max: 50, noNaN: true }), { maxLength: 12 }),
    ms: fc.array(fc.double({ min: -80, max: 80, noNaN: true }), { maxLength: 12 }),
    hit: fc.integer({ min: 0, max: 30 }),
    wrong: fc.integer({ min: 0, max: 9 }),
    beat: fc.integer({ min: 60, max: 120 }),
    reed: fc.constantFrom("4", "-4", "-3''"),
  })
  .map(({ hour, id, cents, ms, hit, wrong, beat, reed }) =>
    fact(0, {
      hour,
      id,
      bpm: bpm(beat),
      measured: measured({ hit, wrong, plainCents: cents, ms }),
      reeds: { [reed]: counts(hit + wrong, wrong) },
    }),
  );
const facts = fc.uniqueArray(anyFact, { minLength: 2, maxLength: 12, selector: ({ id }) => id });

describe("roll-ups of a day", () => {
  test("two parts added up are exactly the whole counted at once, in whatever order", () => {
    fc.assert(
      fc.property(facts, fc.nat(), (all, cut) => {
        const at = 1 + (cut % (all.length - 1));
        const parts = [all.slice(0, at), all.slice(at)] as const;
        const agree = <Row>(make: (facts: readonly SessionFact[]) => Row, merge: (a: Row, b: Row) => Row) => {
          const [one, other] = [make(parts[0]), make(parts[1])];
          expect(merge(one, other)).toEqual(make(all));
          expect(merge(other, one)).toEqual(make([...all].reverse()));
        };
        agree(groupDayOf, mergeGroupDays);
        agree(reedDayOf, mergeReedDays);
        agree(itemDayOf, mergeItemDays);
      }),
    );
  });

  test("keep the first attempt of the day apart from the best", () => {
    const cold = fact(0, { hour: 9, measured: measured({ hit: 12, wrong: 8, evennessMs: 30 }) });
    const warm = fact(0, { hour: 10, measured: measured({ hit: 19, wrong: 1, evennessMs: 12 }) });
    const tired = fact(0, { hour: 11, measured: measured({ hit: 15, wrong: 5, evennessMs: 20 }) });
    const day = groupDayOf([tired, warm, cold]);
    expect(day.attempts).toBe(3);
    // [calc] 12/20, 19/20, (12 + 19 + 15)/60
    expect(measureValue("notes right", day.first.measured)).toBe(0.6);
    expect(day.best["notes right"]).toBe(0.95);
    expect(day.best.evenness).toBe(12);
    expect(measureValue("notes right", day.all)).toBeCloseTo(46 / 60, 12);
    expect(day.best["timing bias"]).toBeUndefined();
  });

  test("a clock set back makes the later attempt the first, and the same whatever order they were kept in", () => {
    const played = fact(0, { hour: 12, id: "played first" });
    const afterSettingBack = fact(0, { hour: 11, id: "played second" });
    expect(groupDayOf([played, afterSettingBack]).first.id).toBe("played second");
    expect(groupDayOf([afterSettingBack, played])).toEqual(groupDayOf([played, afterSettingBack]));
    const sameInstant = [fact(0, { id: "b" }), fact(0, { id: "a" })];
    expect(groupDayOf(sameInstant).first.id).toBe("a");
  });

  test("another tempo is another group but the same thing practised, with the fastest tempo that held", () => {
    const slow = fact(0, {
      hour: 9,
      bpm: bpm(80),
      group: "at 80",
      measured: measured({ ms: Array(20).fill(0) }),
    });
    const fast = fact(0, {
      hour: 10,
      bpm: bpm(110),
      group: "at 110",
      measured: measured({ hit: 9, wrong: 11 }),
    });
    const { groupDays, itemDays } = rollUp([fast, slow]);
    expect(groupDays.size).toBe(2);
    const [item] = [...itemDays.values()];
    expect(itemDays.size).toBe(1);
    expect(item?.attempts).toBe(2);
    expect(item?.reached).toEqual({ bpm: 80, noteValue: "1/4" });
    expect([item?.first.id, item?.last.id]).toEqual([slow.id, fast.id]);
  });

  test("of no attempts there is none", () => {
    expect(() => groupDayOf([])).toThrow(RangeError);
  });
});
