import { expect, test } from "vitest";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { marksTable } from "../../../core/score/marks-table.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import type { Plant } from "../../../core/simulate/plants.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { cents, midi, milliseconds } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();
const PLANTS: readonly Plant[] = [
  { kind: "wrong", index: 2, midi: midi(81) },
  { kind: "missed", index: 4 },
  { kind: "extra", index: 6, midi: midi(76) },
  { kind: "pitch", index: 8, offsetCents: cents(-30) },
  { kind: "time", index: 10, offsetMs: milliseconds(60) },
];

function table() {
  const { samples, sampleRateHz } = simulateTake(exercise, { seed: 4, plants: PLANTS, sampleRateHz: 48_000 });
  return marksTable(exercise, scoreTake(exercise, listenToTake(samples, sampleRateHz)));
}

test("every planted mistake stands in its row, with its number and unit", () => {
  const [head = [], ...rows] = table();
  const cell = (row: number, heading: string) => rows[row]?.[head.indexOf(heading)];
  expect(head.every((heading) => typeof heading === "string" && heading !== "")).toBe(true);
  // 15 notes and one too many, which stands behind note 7.
  expect(rows.map((row) => row[0])).toEqual([1, 2, 3, 4, 5, 6, 7, null, 8, 9, 10, 11, 12, 13, 14, 15]);
  expect(cell(2, "mark")).toBe("wrong");
  expect(cell(2, "heard")).toBe("A5");
  expect(cell(2, "slip")).toMatch(/^[a-z ]+: .* instead of /);
  expect(cell(4, "mark")).toBe("missed");
  expect(cell(4, "begins (s in the take)")).toBeNull();
  expect(cell(7, "mark")).toBe("too many");
  expect(cell(7, "heard")).toBe("E5");
  expect(cell(9, "intonation")).toBe("flat");
  // As planted: 30 cents to the tenth that is printed and one of measuring, 60 ms to the 5 of an onset.
  expect(Math.abs(Number(cell(9, "off target (cents; sharp +)")) + 30)).toBeLessThan(1);
  expect(cell(11, "timing")).toBe("late");
  expect(Math.abs(Number(cell(11, "off beat (ms; late +)")) - 60)).toBeLessThan(5);
});

test("bars and beats are counted as players count, from one", () => {
  const [head = [], ...rows] = table();
  const places = rows
    .filter((row) => row[0] !== null)
    .map((row) => `${row[head.indexOf("bar")]}.${row[head.indexOf("beat")]}`);
  // [calc] 15 crotchets in bars of four.
  expect(places.slice(0, 6)).toEqual(["1.1", "1.2", "1.3", "1.4", "2.1", "2.2"]);
  expect(places.at(-1)).toBe("4.3");
});
