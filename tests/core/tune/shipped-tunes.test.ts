import { describe, expect, test } from "vitest";
import { PLAIN_ONLY, reachOf } from "../../../core/instrument/reed-actions.ts";
import { stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { pitchClassOfName } from "../../../core/pitch/note-names.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import type { TuneDance } from "../../../core/tune/dances.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../../core/tune/tune.ts";
import { SHIPPED_FILES, type ShippedFile, shippedText, shippedTunes } from "../../support/shipped-tunes.ts";

const books = Object.fromEntries(SHIPPED_FILES.map((file) => [file, readAbc(shippedText(file))]));

function tunesOf(file: ShippedFile): readonly Tune[] {
  const book = books[file];
  return book?.kind === "tunes" ? book.tunes : [];
}
const traditional = tunesOf("traditional");
const band = tunesOf("village-band");
const all = [...traditional, ...band];
const named = all.map((tune) => [tune.title, tune] as const);

test.each(SHIPPED_FILES)("every tune of %s.abc is read, with nothing bad and nothing to remark", (file) => {
  const book = books[file];
  if (book?.kind !== "tunes") throw new Error(book?.reason);
  expect(book.bad).toEqual([]);
  expect(book.remarks).toEqual([]);
  expect(book.tunes).toHaveLength(shippedTunes(file).length);
  expect(book.tunes.flatMap((tune) => tune.remarks.map(({ words }) => `${tune.title}: ${words}`))).toEqual(
    [],
  );
});

describe("bars", () => {
  test.each(named)("%s: every bar is whole, but for upbeats and the ends they fill", (_, tune) => {
    expect(tune.bars.length).toBeGreaterThan(8);
    expect(tune.bars.filter((bar) => bar.kind === "irregular")).toEqual([]);
  });

  test.each(named)("%s: its strains have the bars the print gives them", (title, tune) => {
    expect(strainLengths(tune)).toEqual(STRAINS[title] ?? [8, 8]);
  });
});

/**
 * Bars of each strain as written, an upbeat and the end it fills counted as one, where they are not two of 8. [P] after
 * the prints, as the N: lines tell; fact sheet, section 8: strains of 8 bars in 98 % of jigs and hornpipes, slip jigs 4.
 */
const STRAINS: Readonly<Record<string, readonly number[]>> = {
  "Cherish the Ladies": [8, 8, 8, 8, 8, 8, 8],
  // Eight bars, of which four have a second ending.
  "Banish Misfortune": [8, 12, 8],
  "Smash the Windows": [8, 16],
  "The Rocky Road to Dublin": [4, 8, 8],
  "The Kid on the Mountain": [4, 4, 4, 4, 4, 4],
  "The Devil's Dream": [8, 8, 8],
  "Liverpool Hornpipe": [8, 8, 8],
  "The Cuckoo's Nest (second setting)": [8, 8, 8],
  "The Rakes of Mallow": [8, 8, 8, 8],
  "The Wet Field Home": [4, 4],
};

function strainLengths(tune: Tune): readonly number[] {
  const lengths = new Map<string, number>();
  for (const bar of tune.bars) {
    if (bar.pass > 0 || bar.kind === "pick-up") continue;
    lengths.set(bar.strain, (lengths.get(bar.strain) ?? 0) + 1);
  }
  return [...lengths.values()];
}

test("the return that ends Cherish the Ladies is its first strain", () => {
  const tune = traditional.find(({ title }) => title === "Cherish the Ladies");
  const pitches = (strain: string) =>
    tune?.notes
      .filter(({ bar }) => {
        const at = tune.bars[bar];
        return at?.strain === strain && at.kind !== "pick-up" && at.pass === 0;
      })
      .map(({ midi }) => midi);
  expect(pitches("A")?.length).toBe(46); // [calc] 7 bars of 6 quavers, then 3 and a crotchet: 7 * 6 + 4
  expect(pitches("G")).toEqual(pitches("A"));
});

describe("keys and dances", () => {
  const keyOf = ({ key }: Tune) => `${key.tonic} ${key.mode}`;

  test("the traditional ones have the keys and dances the numbers of the print allow", () => {
    expect(new Set(traditional.map(keyOf))).toEqual(
      new Set(["D major", "G major", "A major", "E minor", "A minor", "A dorian"]),
    );
    expect(countBy(traditional.map(({ dance }) => dance ?? "none"))).toEqual({
      jig: 11,
      "slip-jig": 2,
      reel: 8,
      hornpipe: 10,
      polka: 1,
      march: 1,
    });
  });

  test("together with the band's they cover what dancers and sessions ask for", () => {
    const wanted = [
      "D major",
      "G major",
      "A major",
      "E minor",
      "A minor",
      "A dorian",
      "E dorian",
      "D mixolydian",
      "A mixolydian",
    ];
    expect([...new Set(all.map(keyOf))].sort()).toEqual([...wanted].sort());
    const dances: readonly TuneDance[] = ["reel", "jig", "slip-jig", "hornpipe", "polka", "waltz", "march"];
    expect(new Set(band.map(({ dance }) => dance))).toEqual(new Set(dances));
  });

  test("a tune ends on its key note, or its notes say that it ends open", () => {
    const open = all.filter(
      (tune) => (tune.notes.at(-1)?.midi ?? 0) % 12 !== pitchClassOfName(tune.key.tonic),
    );
    expect(open.map(({ title }) => title)).toEqual(ENDING_OPEN);
  });

  test("a tempo stands only where the print's metre would make the dance's own mean twice its speed", () => {
    for (const tune of all) {
      const halved = tune.dance === "hornpipe" && tune.metre?.beats === 2 && tune.metre.unit === 4;
      expect(tune.tempoFrom, tune.title).toBe(halved ? "tune" : "dance");
    }
  });
});

/** Tunes that go round, their last note leading back to the first. Fact sheet, section 8: half closes are common. */
const ENDING_OPEN = [
  "Saddle the Pony",
  "Garryowen",
  "The Rocky Road to Dublin",
  "The Kid on the Mountain",
  "The Star of Munster",
  "Miss McLeod's Reel",
  "The Ranting Highlandman",
];

describe("compass and steps are a dance tune's", () => {
  // [fact sheet, section 8] of O'Neill's jigs, slip jigs, reels and hornpipes, 1,070 tunes.
  const inOrder = (numbers: readonly number[]) => [...numbers].sort((a, b) => a - b);
  const span = ({ notes }: Tune) => {
    const pitches = inOrder(notes.map(({ midi }) => midi));
    return (pitches.at(-1) ?? 0) - (pitches[0] ?? 0);
  };

  test("nothing lies below G3 or above C6, and few tunes leave G3 to B5", () => {
    const outside = all.filter(({ notes }) => notes.some(({ midi }) => midi < 55 || midi > 83));
    expect(all.flatMap(({ notes }) => notes).filter(({ midi }) => midi < 55 || midi > 84)).toEqual([]);
    expect(outside.length / all.length).toBeLessThanOrEqual(0.09); // within G3-B5: hornpipes 91 %, reels 94, jigs 97
  });

  test("a tune spans 17 to 19 semitones in the median and never more than a hornpipe's 27", () => {
    const spans = inOrder(traditional.map(span));
    expect(spans[spans.length >> 1]).toBeGreaterThanOrEqual(17);
    expect(spans[spans.length >> 1]).toBeLessThanOrEqual(19);
    expect(spans.at(-1)).toBeLessThanOrEqual(27);
  });

  test("steps between notes have the shares the collections have, to 3 points", () => {
    // Shares of four collections; 3 points more either way, as these are 33 tunes and not a thousand.
    const steps = traditional.flatMap(({ notes }) =>
      notes.slice(1).map(({ midi }, index) => Math.abs(midi - (notes[index]?.midi ?? midi))),
    );
    const share = (semitones: number) =>
      (100 * steps.filter((step) => step === semitones).length) / steps.length;
    const shares: readonly (readonly [number, number, number])[] = [
      [2, 31, 38],
      [1, 14, 17],
      [3, 14, 17],
      [0, 7, 12],
      [4, 9, 12],
      [5, 6, 8],
    ];
    for (const [semitones, low, high] of shares) {
      expect(share(semitones), `${semitones} semitones`).toBeGreaterThan(low - 3);
      expect(share(semitones), `${semitones} semitones`).toBeLessThan(high + 3);
    }
  });

  test("a raised third blow lets more of them be played without a bend, as it does in the whole print", () => {
    // [fact sheet, section 8] at written pitch on the twelve usual keys 17 % become 46 %: 20 to 30 points. One standard
    // error of a share of 33 tunes is sqrt(0.46 * 0.54 / 33) = 8.7 points [calc], so 20 less one to 30 and one.
    const playable = (id: string) => traditional.filter((tune) => playsWithoutBend(tune, id)).length;
    const gain = (100 * (playable("raised-third-blow") - playable("standard"))) / traditional.length;
    expect(gain).toBeGreaterThan(20 - 8.7);
    expect(gain).toBeLessThan(30 + 8.7);
  });
});

/** At written pitch on one of the twelve keys of a usual set, hole 1 blow G3 to F#4. */
function playsWithoutBend(tune: Tune, layoutId: string): boolean {
  const layout = stockLayout(layoutId);
  if (layout === null) throw new Error(layoutId);
  const reach = reachOf(layout, PLAIN_ONLY);
  return Array.from({ length: 12 }, (_, step) => 55 + step).some((keyNote) =>
    tune.notes.every(({ midi }) => reach.has(midi - keyNote)),
  );
}

describe("chords", () => {
  const TRIADS: Readonly<Record<string, readonly number[]>> = {
    "": [0, 4, 7],
    m: [0, 3, 7],
    "7": [0, 4, 7, 10],
  };

  test.each(named)("%s: each chord has a note of the melody in it while it lasts", (_, tune) => {
    expect(tune.chords.length).toBeGreaterThan(4);
    tune.chords.forEach((chord, index) => {
      const [, root = "", kind = ""] = /^([A-G])(m|7)?$/.exec(chord.symbol) ?? [];
      const rootClass = pitchClassOfName(root) ?? Number.NaN;
      const until = tune.chords[index + 1]?.atTicks ?? Number.POSITIVE_INFINITY;
      const under = tune.notes.filter(
        ({ startTicks, lengthTicks }) => startTicks < until && startTicks + lengthTicks > chord.atTicks,
      );
      const classes = (TRIADS[kind] ?? []).map((above) => (rootClass + above) % 12);
      expect(
        under.some(({ midi }) => classes.includes(midi % 12)),
        `${chord.symbol} at semibreve ${chord.atTicks / TICKS_PER_SEMIBREVE}`,
      ).toBe(true);
    });
  });
});

function countBy(words: readonly string[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const word of words) counts[word] = (counts[word] ?? 0) + 1;
  return counts;
}
