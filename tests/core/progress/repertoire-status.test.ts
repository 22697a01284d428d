import { describe, expect, test } from "vitest";
import { ladderState, USUAL_RULE } from "../../../core/exercise/tune-ladder.ts";
import {
  RESTS_AFTER_DAYS,
  standingInWords,
  type TuneRecord,
  type TuneTry,
  tuneStanding,
} from "../../../core/progress/repertoire/repertoire-status.ts";
import { readTempoSign, type Tempo, tempoSign } from "../../../core/tune/tempo.ts";
import { bpm, milliseconds, ticks } from "../../../core/units.ts";

const DAY_MS = 86_400_000;
/** [calc] 3 November 2026, noon UTC: 20,760 days after 1970-01-01 (56 years * 365 + 14 leap days = 20,454; + 306). */
const NOON_EPOCH_MS = 20_760 * DAY_MS + DAY_MS / 2;
const REEL: Tempo = { noteValue: "1/2", bpm: bpm(112) };
const WHOLE = "whole tune 0-5160960 at 100 %";
const PHRASE = "phrase 0-645120 at 60 %";

function tried(rung: string, change: Partial<TuneTry> = {}): TuneTry {
  return {
    rung,
    rightShare: 0.95,
    spreadMs: milliseconds(22),
    tempo: REEL,
    words: rung.startsWith("whole") ? "whole tune" : "A 1–4",
    atEpochMs: NOON_EPOCH_MS,
    ...change,
  };
}

const record = (tries: readonly TuneTry[], change: Partial<TuneRecord> = {}): TuneRecord => ({
  tries,
  heard: 0,
  dance: REEL,
  own: null,
  ...change,
});

const standing = (one: TuneRecord, daysLater = 1) =>
  tuneStanding(one, USUAL_RULE, NOON_EPOCH_MS + daysLater * DAY_MS);
const dayInWords = (epochMs: number) =>
  new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "long", timeZone: "UTC" }).format(epochMs);

describe("where a tune stands", () => {
  test("a tune that was neither played nor listened to is new; listening alone is learning", () => {
    expect(standing(record([]))).toMatchObject({ status: "new", derived: "new", tries: 0, reached: null });
    expect(standing(record([], { heard: 2 })).status).toBe("learning");
    expect(standingInWords(standing(record([])), dayInWords)).toBe("not played yet");
    expect(standingInWords(standing(record([], { heard: 2 })), dayInWords)).toBe(
      "listened to, not played yet",
    );
  });

  test("the whole tune at dance tempo, clean twice in a row, is at tempo, and the words say which and when", () => {
    const once = standing(record([tried(WHOLE)]));
    expect(once.status).toBe("learning");
    expect(standingInWords(once, dayInWords)).toBe("1 attempt, no rung climbed yet");
    const twice = standing(record([tried(WHOLE), tried(WHOLE)]));
    expect(twice.status).toBe("at tempo");
    expect(standingInWords(twice, dayInWords)).toBe("whole tune at minim = 112 on 3 November, 2 in a row");
  });

  test("an attempt with many wrong notes between two clean ones begins the row again", () => {
    const tries = [tried(WHOLE), tried(WHOLE, { rightShare: 0.5 }), tried(WHOLE)];
    expect(standing(record(tries)).status).toBe("learning");
  });

  test("slower than the dance is not at tempo, however clean; half a beat is rounding", () => {
    const at = (beats: number) => {
      const slow = tried(WHOLE, { tempo: { noteValue: "1/2", bpm: bpm(beats) } });
      return standing(record([slow, slow])).status;
    };
    expect([at(90), at(111), at(112), at(120)]).toEqual(["learning", "learning", "at tempo", "at tempo"]);
    expect(at(111.5)).toBe("at tempo");
    // [calc] 224 crotchets are as fast as 112 minims.
    const crotchets = tried(WHOLE, { tempo: { noteValue: "1/4", bpm: bpm(224) } });
    expect(standing(record([crotchets, crotchets])).status).toBe("at tempo");
  });

  test("a dance tempo raised later takes the tune back to learning, and what was reached is still told", () => {
    const tries = [tried(PHRASE), tried(PHRASE), tried(WHOLE), tried(WHOLE)];
    const faster = standing(record(tries, { dance: { noteValue: "1/2", bpm: bpm(120) } }));
    expect(faster.status).toBe("learning");
    // [calc] 60 % of 120 are 72: the phrase was played at 112 and is climbed.
    expect(faster.reached).toMatchObject({ kind: "phrase", words: "A 1–4", inARow: 2 });
  });

  test("where the dance tempo is not known any tempo at the last rung counts", () => {
    const slow = tried(WHOLE, { tempo: { noteValue: "1/2", bpm: bpm(60) } });
    expect(standing(record([slow, slow], { dance: null })).status).toBe("at tempo");
  });

  test("more of the tune is further than a faster phrase", () => {
    const tries = [
      tried("whole tune 0-5160960 at 80 %", { tempo: { noteValue: "1/2", bpm: bpm(90) } }),
      tried("whole tune 0-5160960 at 80 %", { tempo: { noteValue: "1/2", bpm: bpm(92) } }),
      tried(PHRASE),
      tried(PHRASE),
    ];
    const its = standing(record(tries));
    expect(its.status).toBe("learning");
    // The slower of the two tells what was reached.
    expect(its.reached).toMatchObject({ kind: "whole tune", tempo: { bpm: 90 } });
  });

  test("a tune not played for longer than two months rests, and says since when", () => {
    const tries = [tried(WHOLE), tried(WHOLE)];
    expect(standing(record(tries), RESTS_AFTER_DAYS).status).toBe("at tempo");
    const rested = standing(record(tries), RESTS_AFTER_DAYS + 1);
    expect(rested.status).toBe("resting");
    expect(standingInWords(rested, dayInWords)).toBe(
      "not played since 3 November; whole tune at minim = 112 on 3 November, 2 in a row",
    );
  });

  test("the player's own word stands above the attempts, which are still told", () => {
    const set = standing(record([tried(PHRASE)], { own: "at tempo" }));
    expect(set).toMatchObject({ status: "at tempo", byHand: true, derived: "learning" });
    expect(standingInWords(set, dayInWords)).toBe(
      "set by you; by your attempts learning: 1 attempt, no rung climbed yet",
    );
    const same = standing(record([], { own: "new" }));
    expect(standingInWords(same, dayInWords)).toBe("set by you; not played yet");
  });

  test("a stretch that is no rung counts as played, and climbs nothing", () => {
    expect(standing(record([tried(""), tried("")]))).toMatchObject({ status: "learning", reached: null });
  });

  test("agrees with the ladder of the tune's own page: what is climbed there is climbed here", () => {
    const span = { startTicks: ticks(0), endTicks: ticks(5_160_960) };
    const rung = { id: WHOLE, kind: "whole tune", words: "whole tune", span, tempoShare: 1 } as const;
    for (const beats of [90, 111, 112, 130]) {
      const tries = [1, 2].map(() => tried(WHOLE, { tempo: { noteValue: "1/2", bpm: bpm(beats) } }));
      const [state] = ladderState([rung], tries, new Set(), USUAL_RULE, REEL);
      expect(state?.state === "climbed").toBe(standing(record(tries)).status === "at tempo");
    }
  });
});

test("a tempo reads back from its sign in every note value", () => {
  for (const noteValue of ["1/8", "1/4", "3/8", "1/2"] as const) {
    const tempo: Tempo = { noteValue, bpm: bpm(96) };
    expect(readTempoSign(tempoSign(tempo))).toEqual(tempo);
  }
  expect(readTempoSign("fast")).toBeNull();
  expect(readTempoSign("♩ = quick")).toBeNull();
});
