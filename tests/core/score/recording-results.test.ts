import { expect, test } from "vitest";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import type { Way } from "../../../core/score/attempt.ts";
import { toCsv } from "../../../core/score/csv.ts";
import { type RecordingResult, resultsTable, toldOf } from "../../../core/score/recording-results.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import type { Plant } from "../../../core/simulate/plants.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { cents, midi } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { readTable } from "../../support/read-csv.ts";

const exercise = exerciseOf();

function marked(name: string, way: Way, plants: readonly Plant[]): RecordingResult {
  const { samples, sampleRateHz } = simulateTake(exercise, { seed: 4, plants, sampleRateHz: 48_000 });
  const attempt = scoreTake(exercise, listenToTake(samples, sampleRateHz), { ...USUAL_SETTINGS, way });
  return { kind: "marked", name, told: toldOf(attempt) };
}

test("a row has what was counted and measured, with its unit in the heading", () => {
  const rows = readTable(
    toCsv(
      resultsTable([
        marked('Anna, "first".wav', "in time", [
          { kind: "wrong", index: 2, midi: midi(81) },
          { kind: "missed", index: 4 },
          { kind: "extra", index: 6, midi: midi(76) },
          { kind: "pitch", index: 8, offsetCents: cents(-30) },
        ]),
        marked("Ben.wav", "own pace", []),
        { kind: "not marked", name: "+notes.wav", reason: "not a WAV file" },
      ]),
    ),
  );
  // As planted, of 15 notes; the mistakes of the first are told in its words, the most costly first.
  expect(rows[0]).toMatchObject({
    recording: 'Anna, "first".wav',
    exercise: exercise.title,
    way: "in time",
    "notes asked for": "15",
    right: "13",
    wrong: "1",
    missed: "1",
    "too many": "1",
    "cost most": expect.stringMatching(/^1 of 15 notes/),
    "cost third": expect.stringMatching(/./),
    "not marked because": "",
  });
  // [calc] one of 13 notes 30 cents flat: -2.3 on the mean, a spread of 30/sqrt(13) = 8.3; a cent each of measuring.
  expect(Math.abs(Number(rows[0]?.["intonation bias (cents; sharp +)"]) + 2.3)).toBeLessThan(1);
  expect(Math.abs(Number(rows[0]?.["intonation spread (cents)"]) - 8.3)).toBeLessThan(1);
  expect(Number(rows[0]?.["timing spread (ms)"])).toBeLessThan(5);
  expect(rows[1]).toMatchObject({ way: "own pace", right: "15", "timing spread (ms)": "", "cost most": "" });
  // The simulated player keeps the tempo; a tenth of a per cent nobody hears.
  expect(Number(rows[1]?.["tempo (% of the one asked for)"])).toBeCloseTo(100, 0);
  expect(rows[2]).toMatchObject({
    recording: "'+notes.wav",
    right: "",
    "not marked because": "not a WAV file",
  });
});

test("hundreds of recordings are kept without their marks", () => {
  const result = marked("Anna.wav", "in time", []);
  expect(result.kind === "marked" && Object.keys(result.told).sort()).toEqual([
    "advice",
    "summary",
    "take",
    "title",
    "way",
  ]);
});
