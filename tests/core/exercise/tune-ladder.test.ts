import { describe, expect, test } from "vitest";
import {
  ladderOf,
  ladderState,
  meets,
  type RungResult,
  rungTempo,
  USUAL_RULE,
} from "../../../core/exercise/tune-ladder.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { phrasesOf } from "../../../core/tune/phrases.ts";
import { bpm, milliseconds } from "../../../core/units.ts";
import { shippedText } from "../../support/shipped-tunes.ts";

const read = readAbc(shippedText("village-band"));
if (read.kind !== "tunes" || read.tunes[0] === undefined) throw new Error("the band's tunes are not there");
const [tune] = read.tunes;
const ladder = ladderOf(tune, phrasesOf(tune, 4));

const good = (rung: string): RungResult => ({ rung, rightShare: 0.95, spreadMs: milliseconds(20) });
const poor = (rung: string): RungResult => ({ rung, rightShare: 0.7, spreadMs: milliseconds(20) });
const nowIn = (results: readonly RungResult[], heard: readonly string[]) =>
  ladderState(ladder, results, new Set(heard)).find(({ state }) => state === "now") ?? null;

describe("the ladder of a tune", () => {
  test("goes from listening over phrases, strains and the whole tune to the dance", () => {
    expect(ladder.map(({ kind, words }) => `${kind}: ${words}`)).toEqual([
      "listen: A 1–4",
      "phrase: A 1–4",
      "listen: A 5–8",
      "phrase: A 5–8",
      "strain: strain A",
      "listen: B 1–4",
      "phrase: B 1–4",
      "listen: B 5–8",
      "phrase: B 5–8",
      "strain: strain B",
      "whole tune: whole tune",
      "whole tune: whole tune",
      "whole tune: whole tune",
    ]);
    expect(ladder.at(-1)?.tempoShare).toBe(1);
  });

  test("joins phrases two by two where a strain has three or more", () => {
    const short = ladderOf(tune, phrasesOf(tune, 2));
    expect(short.filter(({ kind }) => kind === "phrases joined").map(({ words }) => words)).toEqual([
      "A 1–2 + A 3–4",
      "A 3–4 + A 5–6",
      "A 5–6 + A 7–8",
      "B 1–2 + B 3–4",
      "B 3–4 + B 5–6",
      "B 5–6 + B 7–8",
    ]);
  });

  test("begins with listening, and listening is done once heard", () => {
    const first = ladder[0]?.id ?? "";
    expect(nowIn([], [])?.rung.id).toBe(first);
    expect(nowIn([], [first])?.rung.kind).toBe("phrase");
  });

  test("a rung is climbed by two in a row, and one that fails between begins the row again", () => {
    const heard = ladder.filter(({ kind }) => kind === "listen").map(({ id }) => id);
    const phrase = ladder[1]?.id ?? "";
    expect(nowIn([good(phrase)], heard)).toMatchObject({ rung: { id: phrase }, inARow: 1, attempts: 1 });
    expect(nowIn([good(phrase), poor(phrase), good(phrase)], heard)?.inARow).toBe(1);
    expect(nowIn([good(phrase), good(phrase)], heard)?.rung.words).toBe("A 5–8");
    // What was climbed stays so.
    expect(nowIn([good(phrase), good(phrase), poor(phrase)], heard)?.rung.words).toBe("A 5–8");
  });

  test("attempts at another rung or another tempo do not count", () => {
    const heard = ladder.filter(({ kind }) => kind === "listen").map(({ id }) => id);
    expect(nowIn([good("phrase 0-1 at 50 %"), good("phrase 0-1 at 50 %")], heard)?.attempts).toBe(0);
  });

  test("meets the rule with nine in ten right within 40 ms; a spread nobody could measure holds nobody back", () => {
    const at = (rightShare: number, spreadMs: number | null) =>
      meets(
        { rung: "", rightShare, spreadMs: spreadMs === null ? null : milliseconds(spreadMs) },
        USUAL_RULE,
      );
    expect([at(0.9, 40), at(0.89, 10), at(1, 41), at(1, null)]).toEqual([true, false, false, true]);
  });

  test("all climbed, nothing is left to do", () => {
    const heard = ladder.filter(({ kind }) => kind === "listen").map(({ id }) => id);
    const results = ladder.flatMap(({ id }) => [good(id), good(id)]);
    expect(nowIn(results, heard)).toBeNull();
  });

  test("the tempo of a rung is its share of the dance's, in whole beats", () => {
    // [calc] 0.6 * 116 = 69.6
    expect(rungTempo(bpm(116), { tempoShare: 0.6 })).toBe(70);
  });
});
