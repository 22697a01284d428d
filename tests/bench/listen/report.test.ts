import { expect, it } from "vitest";
import { readAnswer } from "./engines/answer.ts";
import { scoreAnswer } from "./measures/take-score.ts";
import { reachedFigures } from "./report/figure-table.ts";
import { readOptions, UsageError } from "./run/arguments.ts";

/** A take of one note heard so late, in ms, and by so many cents off. */
function evidence(seed: number, cents: number) {
  const note = { on: 1, off: 1.25, midi: 69, cents: 0 };
  const f0 = Array.from({ length: 300 }, (_, i) => (i >= 200 && i < 250 ? 440 : 0));
  const truth = { name: "", group: "", notes: [note], f0, voiced: f0.map((hz) => (hz > 0 ? 1 : 0) as 1 | 0) };
  const frames = f0.map((hz, i) => ({ t: i * 0.005, f0: hz * 2 ** (cents / 1200) }));
  const score = scoreAnswer(truth, { frames, notes: [{ ...note, cents }] });
  const result = {
    seed,
    engines: new Map([["one", [{ take: "mel250_white20", group: "", score }]]]),
    harpKnown: [],
    liveMs: new Map([["mel250_white20", [30, 41.5]]]),
  };
  return { result, timed: { speeds: [], marks: { finishMs: 150, markMs: 51, firstMs: 230 } }, engine: "one" };
}

const verdicts = (evidences: Parameters<typeof reachedFigures>[0]) =>
  new Map(reachedFigures(evidences).map(({ figure, verdict }) => [figure.name, verdict]));

it("a figure is met only if it is on every seed, and the worst seed says by how much it is not", () => {
  const cents = "event cents, SNR >= 10 dB, both tempi: median";
  expect(verdicts([evidence(1, 0.01)]).get(cents)).toBe("met");
  expect(verdicts([evidence(1, 0.01), evidence(2, 0.05)]).get(cents)).toBe("short by 0.030 cents");
  // [calc] 150 + 51 ms against 200
  const marks = "marks after the last note of a 60 s take";
  expect(verdicts([evidence(1, 0)]).get(`${marks}: median of five`)).toBe("short by 1 ms");
  expect(verdicts([evidence(1, 0)]).get(`${marks}: the first time`)).toBe("short by 30 ms");
});

it("a figure with a goal says whether that is reached, and one without takes is not measured", () => {
  const found = verdicts([evidence(1, 0)]);
  expect(found.get("raw pitch at 50 cents, all synthetic takes")).toBe("met, goal too");
  expect(found.get("note F1: tremolo 5 Hz")).toBe("not measured");
  expect(found.get("speed, whole, one core, 5 ms hop")).toBe("not measured");
});

it("an engine's answer may have words before it; what is no answer is none", () => {
  const answer = {
    frames: [{ t: 0.1, f0: -440 }],
    notes: [{ on: 0, off: 1, midi: 69, cents: 1, leak: null }],
  };
  expect(readAnswer(`warming up\n${JSON.stringify(answer)}`)).toEqual(answer);
  expect(readAnswer('{"frames": [{"t": 1}]}')).toBeNull();
  expect(readAnswer("no such file")).toBeNull();
});

it("options are read, and a wrong one is named", () => {
  const read = readOptions(["--seed", "7", "--seed", "8", "--peers", "pitchy", "--json", "r.json"], "/home");
  expect(read.seeds).toEqual([7, 8]);
  expect(read.engines.map(({ name }) => name)).toEqual(["pitchy"]);
  expect(read.json).toBe("/home/r.json");
  const wrong = [
    [["--seed", "x"], /--seed/],
    [["--engine", "mine=cat"], /--engine/],
    [["--engine", "pitchy=cat {}"], /pitchy/],
    [["--peers", "nobody"], /nobody/],
    [["--soundfont", "no.sf2"], /no\.sf2/],
    [["--filter", "("], /--filter/],
    [["--loud"], /--loud/],
  ] as const;
  for (const [argv, said] of wrong) {
    expect(() => readOptions(argv, "/home")).toThrow(UsageError);
    expect(() => readOptions(argv, "/home")).toThrow(said);
  }
});
