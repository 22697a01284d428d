import { describe, expect, test } from "vitest";
import { ladderOf, USUAL_RULE } from "../../../core/exercise/tune-ladder.ts";
import { tuneSteps } from "../../../core/exercise/tune-steps.ts";
import { danceTempoOf, studySetting } from "../../../core/exercise/tune-study.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import {
  planTunes,
  type StandingTune,
  type SteppedTune,
  type StepsOf,
} from "../../../core/progress/plan/plan-tunes.ts";
import {
  type TuneStatus,
  type TuneTry,
  tuneStanding,
} from "../../../core/progress/repertoire/repertoire-status.ts";
import { itemRowOf } from "../../../core/progress/revisit/revisit.ts";
import { phrasesOf } from "../../../core/tune/phrases.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { milliseconds } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";
import { itemDay } from "../../support/item-days.ts";
import { readTune } from "../../support/tune-drills.ts";

const NOW = Date.UTC(2026, 10, 28, 12);
/** In G; on a G harp one position has all its notes plain. */
const REEL = readTune(
  "X:1\nT:Reel, or Not\nR:reel\nM:4/4\nL:1/8\nQ:1/2=112\nK:G\n|:GABG dGBd|g2fg edBd|GABG dGBd|gedB A2G2:|\n",
);
/** From far below a G harp's lowest reed to its highest, and beside its scale: it lacks some of it in any octave. */
const WIDE = readTune(
  "X:1\nT:Wide, or Not\nM:4/4\nL:1/8\nK:C\n|:C,,D,,E,,F,, c'd'e'f'|^C,,^D,,^F,,^G,, ^c'^d'^f'^g':|\n",
);

const rules = { ladder: USUAL_RULE, weights: FIRST_WEIGHTS };
const laid = (tune = REEL, tries: readonly TuneTry[] = [], isFitted = false): SteppedTune => ({
  ...tuneSteps(studySetting(tune, {}, { harps: [harp("G")], abilities: PLAIN_AND_BENDS, rules }), isFitted),
  tries,
  heard: new Set(),
  rule: USUAL_RULE,
});
/** Steps as they are asked for; no answer for a tune that cannot be read. */
const by =
  (tune: (id: string) => Tune | null, tries: Readonly<Record<string, readonly TuneTry[]>> = {}): StepsOf =>
  async (asks) =>
    new Map(
      asks.flatMap(({ tuneId, isFitted }) => {
        const found = tune(tuneId);
        return found === null ? [] : [[tuneId, laid(found, tries[tuneId] ?? [], isFitted)] as const];
      }),
    );
const LADDER = ladderOf(REEL, phrasesOf(REEL, 4), USUAL_RULE);
const [PHRASE, SECOND] = LADDER.filter(({ kind }) => kind !== "listen");
if (PHRASE === undefined || SECOND === undefined) throw new Error("a ladder of two rungs and more");

const clean = (rung: string, atEpochMs: number): TuneTry => ({
  rung,
  rightShare: 1,
  spreadMs: milliseconds(20),
  tempo: danceTempoOf(REEL, {}),
  words: "A 1–4",
  atEpochMs,
});

const standing = (
  tuneId: string,
  tries: readonly TuneTry[],
  own: TuneStatus | null = null,
): StandingTune => ({
  tuneId,
  title: `Tune ${tuneId}`,
  standing: tuneStanding({ tries, heard: 0, dance: danceTempoOf(REEL, {}), own }, USUAL_RULE, NOW),
});
const practised = (tuneId: string, on: string, rung = PHRASE.id) =>
  itemRowOf([
    itemDay(on, [15, 15], {
      item: `${tuneId} ${rung}`,
      what: { tuneId, rung, title: `Tune ${tuneId}, A 1–4` },
    }),
  ]);
const drill = itemRowOf([itemDay("2026-11-20", [15, 15], { item: "a drill" })]);

describe("the tunes of a plan", () => {
  test("have the rung that is next by the attempts, the latest played first", async () => {
    const once = [clean(PHRASE.id, NOW - 3000)];
    const twice = [...once, clean(PHRASE.id, NOW - 2000)];
    const tries: Readonly<Record<string, readonly TuneTry[]>> = { x: once, y: twice };
    const tunes = await planTunes(
      [standing("x", once), standing("y", twice)],
      [practised("x", "2026-11-20"), practised("y", "2026-11-25")],
      1,
      by(() => REEL, tries),
    );
    // [P] two clean attempts in a row climb a rung.
    expect(tunes).toMatchObject([
      { tuneId: "y", status: "learning", lastDay: "2026-11-25", next: { id: SECOND.id } },
      { tuneId: "x", status: "learning", lastDay: "2026-11-20", next: { id: PHRASE.id } },
    ]);
  });

  test("stand where the player says, and go whole as fast as they were climbed", async () => {
    const whole = LADDER.filter(({ kind }) => kind === "whole tune").at(-1);
    if (whole === undefined) throw new Error("the last rung is the whole tune");
    const danced = [clean(whole.id, NOW - 3000), clean(whole.id, NOW - 2000)];
    const tunes = await planTunes(
      [standing("x", danced), standing("y", danced, "resting"), standing("z", [], "at tempo")],
      [practised("x", "2026-11-20", whole.id)],
      1,
      async () => {
        throw new Error("nothing has to be opened");
      },
    );
    expect(tunes).toMatchObject([
      { tuneId: "x", status: "at tempo", whole: { id: whole.id } },
      { tuneId: "y", status: "resting", whole: { id: whole.id } },
      { tuneId: "z", status: "at tempo", whole: null },
    ]);
  });

  test("have one that nobody began, where the harps have all its notes", async () => {
    const tunes = [standing("wide", []), standing("reel", []), standing("gone", [])];
    const lay = by((id) => (id === "gone" ? null : id === "wide" ? WIDE : REEL));
    expect(laid(WIDE, [], true).fit?.missing).toBeGreaterThan(0);
    for (const seed of [1, 2, 3]) {
      expect(await planTunes(tunes, [drill], seed, lay)).toEqual([
        {
          tuneId: "reel",
          title: "Tune reel",
          status: "new",
          lastDay: null,
          next: asRung(PHRASE),
          whole: null,
        },
      ]);
    }
    expect(await planTunes(tunes.slice(0, 1), [drill], 1, lay)).toEqual([]);
  });

  test("have none of those for who has not practised yet, nor beside three being learned", async () => {
    const lay = by(() => REEL);
    expect(await planTunes([standing("reel", [])], [], 1, lay)).toEqual([]);
    const learned = ["a", "b", "c"].map((id) => standing(id, [clean(PHRASE.id, NOW - 1000)]));
    const items = ["a", "b", "c"].map((id) => practised(id, "2026-11-20"));
    const tunes = await planTunes([...learned, standing("reel", [])], items, 1, lay);
    expect(tunes.map(({ tuneId }) => tuneId)).toEqual(["a", "b", "c"]);
  });

  test("change from day to day in which one nobody began is looked at, and are the same on one day", async () => {
    const tunes = Array.from({ length: 40 }, (_, n) => standing(`tune ${n}`, []));
    const chosen = async (seed: number, of = tunes) =>
      (
        await planTunes(
          of,
          [drill],
          seed,
          by(() => REEL),
        )
      ).map(({ tuneId }) => tuneId);
    const days = await Promise.all(Array.from({ length: 10 }, (_, seed) => chosen(seed)));
    expect(new Set(days.flat()).size).toBeGreaterThan(5);
    expect(await chosen(4, [...tunes].reverse())).toEqual(days[4]);
  });
});

const asRung = ({ id, words }: { readonly id: string; readonly words: string }) => ({ id, words });
