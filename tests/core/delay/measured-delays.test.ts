import { expect, test } from "vitest";
import {
  delayInUse,
  type MeasuredDelay,
  rememberDelay,
  type SoundPair,
} from "../../../core/delay/measured-delays.ts";
import { hz, milliseconds } from "../../../core/units.ts";

const pair = (inputName: string, outputName: string, rate = 48_000): SoundPair => ({
  inputName,
  outputName,
  sampleRateHz: hz(rate),
});
const measured = (of: SoundPair, delayMs: number): MeasuredDelay => ({
  ...of,
  delayMs: milliseconds(delayMs),
  spreadMs: milliseconds(1),
  way: "loudspeaker",
  atEpochMs: 0,
});
const NONE = milliseconds(0);
const desk = pair("desk microphone", "loudspeaker");

test("a delay counts for its pair and rate, and for no other", () => {
  const delays = rememberDelay([], measured(desk, 43));
  expect(delayInUse(delays, NONE, desk)).toMatchObject({ kind: "measured", delayMs: 43 });
  for (const other of [
    pair("another", "loudspeaker"),
    pair("desk microphone", "headphones"),
    { ...desk, sampleRateHz: hz(44_100) },
  ])
    expect(delayInUse(delays, NONE, other)).toEqual({ kind: "unknown", delayMs: 0, others: 1 });
});

test("measured again, the new delay stands; another pair keeps its own", () => {
  const phones = pair("desk microphone", "headphones");
  const delays = [measured(desk, 43), measured(phones, 180), measured(desk, 51)].reduce(
    rememberDelay,
    [] as readonly MeasuredDelay[],
  );
  expect(delays).toHaveLength(2);
  expect(delayInUse(delays, NONE, desk).delayMs).toBe(51);
  expect(delayInUse(delays, NONE, phones).delayMs).toBe(180);
});

test("a delay set by hand goes before any that was measured", () => {
  expect(delayInUse([measured(desk, 43)], milliseconds(60), desk)).toEqual({ kind: "by hand", delayMs: 60 });
});

test("the pairs of many rooms do not pile up: the latest twenty stay", () => {
  const names = Array.from({ length: 30 }, (_, n) => pair(`room ${n}`, "loudspeaker"));
  const delays = names.map((one) => measured(one, 20)).reduce(rememberDelay, [] as readonly MeasuredDelay[]);
  expect(delays.map(({ inputName }) => inputName).at(-1)).toBe("room 10");
  expect(delays).toHaveLength(20);
});
