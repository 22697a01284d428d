import { describe, expect, test } from "vitest";
import traditional from "../../assets/tunes/traditional.abc?raw";
import band from "../../assets/tunes/village-band.abc?raw";
import { USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { tuneTry } from "../../core/progress/repertoire/tune-try.ts";
import { tuneLine } from "../../core/tune/tune-list.ts";
import { bpm } from "../../core/units.ts";
import { type HistoryLine, lineOf } from "../../renderer/store/history-store.ts";
import { FIRST_SETTINGS } from "../../renderer/store/settings-store.ts";
import type { ListedTune, TuneStudy } from "../../renderer/store/tune-store.ts";
import { triesByTune, tuneDaysOf } from "../../renderer/store/tune-tries.ts";
import { demoSetList } from "../../renderer/tunes/demo-set-list.ts";
import { glanceAt } from "../../renderer/tunes/glance.ts";
import { laidOf } from "../../renderer/tunes/lay-ask.ts";
import { readText } from "../../renderer/tunes/read-text.ts";
import {
  dayInWords,
  inRepertoire,
  type Repertoire,
  standingOf,
} from "../../renderer/tunes/repertoire-view.ts";
import { rulesOf } from "../../renderer/tunes/tune-view.ts";
import { harp } from "../support/harps.ts";
import { readTune } from "../support/tune-drills.ts";
import { newEntry, withId } from "./store-entries.ts";

const NOW = Date.UTC(2026, 10, 10, 12);
const WHOLE = "whole tune 0-5160960 at 100 %";

const REEL = "X:1\nT:Reel, or Not\nR:reel\nM:4/4\nL:1/8\nQ:1/2=112\nK:D\n|:d2fd Adfd|gfed c2e2:|\n";
const listed: ListedTune = { ...tuneLine(readTune(REEL)), id: "reel", from: "band.abc" };
const other: ListedTune = { ...listed, id: "other", title: "Other" };

/** An attempt at the whole tune, as the history has it, every note right unless told otherwise. */
function line(change: Partial<HistoryLine> = {}, right = 20): HistoryLine {
  const { summary, ...rest } = lineOf(withId(newEntry(), "any"));
  return {
    ...rest,
    title: "Reel, or Not, whole tune",
    tempo: "minim = 112",
    atEpochMs: NOW - 1000,
    tuneId: "reel",
    rung: WHOLE,
    summary: {
      ...summary,
      notes: { ...summary.notes, expected: 20, hit: right, notMeasured: 0 },
      timing: { ...summary.timing, spreadMs: null },
    },
    ...change,
  };
}

const repertoire = (lines: readonly HistoryLine[], studies: readonly TuneStudy[] = []): Repertoire => ({
  studies: new Map(studies.map((study) => [study.id, study])),
  tries: triesByTune(tuneDaysOf(lines)),
  rule: USUAL_RULE,
  nowEpochMs: NOW,
});

describe("the repertoire as the list of tunes has it", () => {
  test("a line of the history says the stretch behind the title's last comma, and the tempo with its note value", () => {
    expect(tuneTry(line())).toMatchObject({
      words: "whole tune",
      tempo: { noteValue: "1/2", bpm: 112 },
      rightShare: 1,
    });
    expect(tuneTry(line({ tempo: "as fast as it goes" }))).toBeNull();
  });

  test("two clean whole tunes at the tempo the file asks for are at tempo, whatever order they are read in", () => {
    const poor = line({ atEpochMs: NOW - 3000 }, 10);
    const [first, last] = [line({ atEpochMs: NOW - 2000 }), line()];
    for (const lines of [
      [poor, first, last],
      [last, poor, first],
    ])
      expect(standingOf(listed, repertoire(lines)).status).toBe("at tempo");
    expect(standingOf(listed, repertoire([first, { ...poor, atEpochMs: NOW - 1500 }, last])).status).toBe(
      "learning",
    );
  });

  test("a dance tempo of the player's own goes before the file's", () => {
    const lines = [line(), line()];
    expect(standingOf(listed, repertoire(lines, [{ id: "reel", danceBpm: 120 }])).status).toBe("learning");
    expect(standingOf(listed, repertoire(lines, [{ id: "reel", danceBpm: 100 }])).status).toBe("at tempo");
  });

  test("the player's own word is heard, and a study kept before there was one still reads", () => {
    expect(standingOf(listed, repertoire([], [{ id: "reel", status: "resting" }])).status).toBe("resting");
    expect(standingOf(listed, repertoire([], [{ id: "reel", swing: 1.2 }])).status).toBe("new");
  });

  test("the list is cut to a state, and ordered by state or by when a tune was played last", () => {
    const known = repertoire([line(), line()]);
    const standing = (tune: ListedTune) => standingOf(tune, known);
    const all = [other, listed];
    const titles = (tunes: readonly ListedTune[]) => tunes.map(({ title }) => title);
    expect(titles(inRepertoire(all, standing, "any", "title"))).toEqual(["Other", "Reel, or Not"]);
    expect(titles(inRepertoire(all, standing, "at tempo", "title"))).toEqual(["Reel, or Not"]);
    expect(titles(inRepertoire(all, standing, "resting", "title"))).toEqual([]);
    expect(titles(inRepertoire(all, standing, "any", "state"))).toEqual(["Reel, or Not", "Other"]);
    expect(titles(inRepertoire(all, standing, "any", "last played"))).toEqual(["Reel, or Not", "Other"]);
  });

  test("a day has its year where that is another one", () => {
    expect(dayInWords(Date.UTC(2026, 10, 3, 12), NOW)).toBe("3 November");
    expect(dayInWords(Date.UTC(2025, 10, 3, 12), NOW)).toBe("3 November 2025");
  });
});

describe("what a worker says of a tune in sight", () => {
  const world = {
    harps: [harp("G"), harp("D")],
    abilities: PLAIN_AND_BENDS,
    rules: rulesOf(FIRST_SETTINGS),
  };

  test("the best of the harps with its position, the ladder, and the tempo it leads to", () => {
    const glance = glanceAt({ id: "reel", abc: REEL, study: { id: "reel" } }, world);
    // [calc] D major on a D harp is 1st position, on a G harp 2nd with a raised seventh that harp lacks plain.
    expect(glance).toMatchObject({ harp: "D harp", position: "1st position", dance: { bpm: 112 } });
    expect(glance?.ladder.at(-1)).toMatchObject({ kind: "whole tune", tempoShare: 1 });
  });

  test("the harp a tune is learned on goes before the best", () => {
    const study = { id: "reel", harp: harp("G") };
    expect(glanceAt({ id: "reel", abc: REEL, study }, world)).toMatchObject({ harp: "G harp" });
    const ask = { key: "1", abc: REEL, study, harp: null };
    expect(laidOf(ask, world)).toMatchObject({ chosen: true, place: { harp: { key: "G" } } });
    expect(laidOf({ ...ask, harp: harp("D") }, world)?.place.harp.key).toBe("D");
    expect(laidOf({ ...ask, study: { ...study, danceBpm: 96 } }, world)?.tempo).toEqual({
      noteValue: "1/2",
      bpm: bpm(96),
    });
  });

  test("a text that is no tune is said to be none", () => {
    expect(glanceAt({ id: "none", abc: "nothing", study: { id: "none" } }, world)).toBeNull();
    expect(laidOf({ key: "1", abc: "nothing", study: null, harp: null }, world)).toBeNull();
  });
});

test("the made-up dance is labelled, and every tune of it comes along", () => {
  const tunes = [traditional, band]
    .flatMap((text) => readText(text).tunes)
    .map(({ tune }, n) => ({ ...tuneLine(tune), id: `tune ${n}`, from: "comes along" }));
  let ids = 0;
  const list = demoSetList(tunes, () => `id ${++ids}`);
  expect(list.demo).toBe(true);
  // [calc] three jigs, three reels, three hornpipes, two slip jigs, a march and a polka, a waltz.
  expect(list.sets.map((set) => set.tunes.length)).toEqual([3, 3, 3, 2, 2, 1]);
});
