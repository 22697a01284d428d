import { describe, expect, test } from "vitest";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { TICKS_PER_SEMIBREVE, type TuneNote } from "../../core/tune/tune.ts";
import { SHIPPED_FILES, shippedText, shippedTunes } from "../support/shipped-tunes.ts";
import { abc2midiBarWarnings } from "./abc2midi-bars.ts";
import { playedByAbc2midi, type Sounding } from "./abc2midi-playing.ts";
import { hasTool } from "./tools.ts";

const TICKS_A_QUAVER = TICKS_PER_SEMIBREVE / 8;
/** In quavers, 1 ms at crotchet = 120: abc2midi 4.84 begins every note one tick of 240 late and ends it on time [X]. */
const ONE_TICK = 1 / 240;
const ROUNDING = 1e-9;

/** R: left out: abc2midi swings what R: calls a hornpipe in 2/4 and 4/4, which no ABC 2.1 reading asks for [X]. */
const withoutRhythm = (text: string) => text.replace(/^R:.*\n/gm, "");

describe.skipIf(!hasTool("abc2midi")).each(SHIPPED_FILES)("abc2midi, %s.abc", (file) => {
  const text = shippedText(file);
  const book = readAbc(text);
  const tunes = book.kind === "tunes" ? book.tunes : [];

  test("finds no bar that does not add up, and can say so", () => {
    expect(abc2midiBarWarnings(text)).toEqual([]);
    const broken = text.replace("GBd", "GB");
    expect(broken).not.toBe(text);
    expect(abc2midiBarWarnings(broken).length).toBeGreaterThan(0);
  });

  test("all tunes were read", () => expect(tunes).toHaveLength(shippedTunes(file).length));

  test.each(tunes.map((tune) => [tune.title, tune] as const))(
    "%s: same notes, onsets and ends",
    (_, tune) => {
      const theirs = playedByAbc2midi(withoutRhythm(text), tune.number)[0] ?? [];
      expect(theirs.length).toBeGreaterThan(40);
      expect(tune.notes.map(({ midi }) => [midi])).toEqual(theirs.map(({ keys }) => keys));
      expect(tune.notes.filter((note, index) => !sameTimes(note, theirs[index]))).toEqual([]);
    },
  );
});

function sameTimes(ours: TuneNote, theirs: Sounding | undefined): boolean {
  if (theirs === undefined) return false;
  const late = theirs.onset - ours.startTicks / TICKS_A_QUAVER;
  const end = (ours.startTicks + ours.lengthTicks) / TICKS_A_QUAVER;
  return Math.abs(late - ONE_TICK) < ROUNDING && Math.abs(theirs.onset + theirs.length - end) < ROUNDING;
}
