import { describe, expect, test } from "vitest";
import { type Harp, harpInKey } from "../../../core/instrument/harp.ts";
import { STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { planDance } from "../../../core/progress/repertoire/repertoire-dance.ts";
import {
  isPlain,
  type LaidTune,
  layTune,
  lengthSeconds,
} from "../../../core/progress/repertoire/repertoire-lay.ts";
import type { SetList, SetTune } from "../../../core/progress/repertoire/repertoire-set-list.ts";
import { danceCsv, danceText, lastsInWords } from "../../../core/progress/repertoire/repertoire-words.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { shippedText } from "../../support/shipped-tunes.ts";

const [standard] = STOCK_LAYOUTS;
if (standard === undefined) throw new Error("there is no standard layout");
const harpIn = (key: string): Harp => {
  const harp = harpInKey(standard, key);
  if (harp === null) throw new Error(`there is no harp in ${key}`);
  return harp;
};
const read = readAbc(shippedText("village-band"));
const tunes = read.kind === "tunes" ? read.tunes : [];
const tuneNamed = (title: string): Tune => {
  const found = tunes.find((tune) => tune.title === title);
  if (found === undefined) throw new Error(`there is no ${title}`);
  return found;
};
const wish = {
  harps: [harpIn("G"), harpIn("D"), harpIn("A")],
  harp: null,
  octaves: null,
  abilities: { bends: true, overbends: false },
  weights: FIRST_WEIGHTS,
} as const;

const JIG = "The Lamp over the Hall Door";
const REEL = "Chairs Against the Wall";
const POLKA = "The Kettle Behind the Stage";

const place = (title: string, change: Partial<SetTune> = {}): SetTune => ({
  id: title,
  tuneId: title,
  title,
  times: 3,
  ...change,
});

function dance(sets: readonly (readonly SetTune[])[], pauseSeconds = 0): SetList {
  return {
    id: "autumn",
    name: "Autumn dance",
    sets: sets.map((its, n) => ({
      id: `set ${n}`,
      name: "",
      tunes: its,
      pauseSeconds,
      breakSeconds: 180,
    })),
  };
}

const laidOf = (tune: SetTune): LaidTune =>
  layTune(tuneNamed(tune.title), { ...wish, harp: tune.harp ?? null });

describe("how long a set lasts", () => {
  test("a jig of two strains of eight bars, each repeated: 32 bars of two beats at its tempo, as often as it is played", () => {
    const laid = layTune(tuneNamed(JIG), wish);
    expect(laid.bars).toBe(32);
    expect(laid.tempo).toEqual({ noteValue: "3/8", bpm: 116 });
    // [calc] 32 bars * 2 dotted crotchets = 64 beats; 64 * 60 / 116 = 33.103 s; three times 99.310 s.
    expect(lengthSeconds(laid.semibreves, laid.tempo)).toBeCloseTo((64 * 60) / 116, 6);
    const [set] = planDance(dance([[place(JIG)]]), laidOf).sets;
    expect(set?.seconds).toBeCloseTo(99.31, 2);
  });

  test("a reel has two minims to the bar, a polka two crotchets; a tempo of the evening's own is obeyed", () => {
    const [set] = planDance(dance([[place(REEL, { times: 2 }), place(POLKA, { bpm: 120 })]]), laidOf).sets;
    // [calc] reel: 32 bars * 2 minims * 2 times * 60 / 116 = 66.207 s; polka: 32 * 2 crotchets * 3 * 60 / 120 = 96 s.
    expect(set?.tunes.map(({ seconds }) => Math.round(1000 * seconds) / 1000)).toEqual([66.207, 96]);
    expect(set?.seconds).toBeCloseTo(162.207, 3);
  });

  test("pauses lie between tunes alone, breaks between sets alone", () => {
    const list = dance([[place(POLKA, { bpm: 120 }), place(POLKA, { id: "2", bpm: 120 })], [place(JIG)]], 5);
    const planned = planDance(list, laidOf);
    // [calc] 96 + 5 + 96; then 99.310; one break of 180.
    expect(planned.sets[0]?.seconds).toBeCloseTo(197, 6);
    expect(planned.playedSeconds).toBeCloseTo(296.31, 2);
    expect(planned.seconds).toBeCloseTo(476.31, 2);
  });

  test("a tune that is no longer there lasts nothing and is said", () => {
    const planned = planDance(dance([[place("gone"), place(POLKA, { bpm: 120 })]]), (tune) =>
      tune.title === "gone" ? null : laidOf(tune),
    );
    expect(planned.seconds).toBeCloseTo(96, 6);
    expect(danceText(planned)).toContain("1. gone, 3 times: this tune is no longer there");
  });
});

describe("harps of a set", () => {
  test("another harp between two tunes is a change, with the time from the last note to the first of the next", () => {
    const list = dance([[place(JIG, { harp: harpIn("D") }), place(POLKA, { harp: harpIn("A") })]], 2);
    const [change, ...more] = planDance(list, laidOf).sets[0]?.changes ?? [];
    expect(more).toEqual([]);
    expect(change).toMatchObject({ after: 0, from: { harp: { key: "D" } }, to: { harp: { key: "A" } } });
    // [calc] neither tune begins or ends with a rest: the pause alone.
    expect(change?.seconds).toBeCloseTo(2, 6);
  });

  test("the same harp twice is no change, and a break between sets holds one without its being counted", () => {
    const on = (key: string, id: string) => place(JIG, { id, harp: harpIn(key) });
    expect(planDance(dance([[on("D", "1"), on("D", "2")], [on("A", "3")]]), laidOf).changes).toBe(0);
  });

  test("rests at the end of a tune are time to change", () => {
    const text = "X:1\nT:Ends Early\nR:polka\nM:2/4\nL:1/4\nQ:1/4=120\nK:D\nDF|A z|]\n";
    const book = readAbc(text);
    const [tune] = book.kind === "tunes" ? book.tunes : [];
    if (tune === undefined) throw new Error("the tune was not read");
    const list = dance([[place("Ends Early", { harp: harpIn("D") }), place(JIG, { harp: harpIn("A") })]]);
    const planned = planDance(list, (one) =>
      one.title === JIG ? laidOf(one) : layTune(tune, { ...wish, harp: one.harp ?? null }),
    );
    // [calc] one crotchet rest at crotchet = 120 is half a second.
    expect(planned.sets[0]?.changes[0]?.seconds).toBeCloseTo(0.5, 6);
  });

  test("the best of the harps there are is taken, and a tune that none of them plays without bends is said", () => {
    const tune = tuneNamed(REEL);
    const laid = layTune(tune, wish);
    expect(laid.onEach).toHaveLength(3);
    expect(laid.place).toEqual(laid.onEach[0]);
    expect(laid.chosen).toBe(false);
    const planned = planDance(dance([[place(REEL)]]), laidOf).sets[0]?.tunes[0];
    expect(planned?.noHarpPlain).toBe(!laid.onEach.some(isPlain));
    // Every note of a chromatic line cannot be plain on one diatonic harp: 12 pitch classes, 7 of them plain (8 at most).
    const chromatic = readAbc("X:1\nT:All Twelve\nM:4/4\nL:1/4\nK:C\nc^c d^d|ef ^fg|^ga ^ab|]\n");
    const [twelve] = chromatic.kind === "tunes" ? chromatic.tunes : [];
    if (twelve === undefined) throw new Error("the tune was not read");
    const all = planDance(dance([[place("All Twelve")]]), () => layTune(twelve, wish));
    expect(all.sets[0]?.tunes[0]?.noHarpPlain).toBe(true);
  });

  test("a harp that was chosen is kept, even where another is easier, and so is its octave", () => {
    const laid = layTune(tuneNamed(JIG), { ...wish, harp: harpIn("C"), octaves: 0 });
    expect(laid.place.harp.key).toBe("C");
    expect(laid.place.shift).toBe(0);
    expect(laid.chosen).toBe(true);
  });
});

describe("a set list in words", () => {
  test("seconds are minutes and seconds, with hours where there are any", () => {
    // [calc] 204 s = 3 * 60 + 24; 3720 s = 1 h 2 min; 59.6 s rounds to a minute.
    expect([204, 3720, 0, 59.6].map(lastsInWords)).toEqual(["3:24", "1:02:00", "0:00", "1:00"]);
  });

  test("the table has a row for each tune and the text a line, with the change before it", () => {
    const list = dance([[place(JIG, { harp: harpIn("D") }), place(POLKA, { harp: harpIn("A"), bpm: 120 })]]);
    const planned = planDance(list, laidOf);
    const lines = danceCsv(planned).split("\r\n");
    expect(lines).toHaveLength(1 + 2 + 1);
    expect(lines[1]).toMatch(/^Set 1,1,The Lamp over the Hall Door,3,dotted crotchet = 116,D harp/);
    expect(lines[2]).toMatch(/^Set 1,2,The Kettle Behind the Stage,3,crotchet = 120,A harp.*,yes,0,.*,96$/);
    const text = danceText(planned);
    expect(text).toContain("Autumn dance");
    expect(text).toMatch(
      /take the A harp.*: straight on, no time between\n {2}2\. The Kettle Behind the Stage/,
    );
    expect(text).toContain("1 harp change");
  });
});
