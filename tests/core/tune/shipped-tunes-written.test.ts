import { describe, expect, test } from "vitest";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { foldRepeats } from "../../../core/tune/fold-repeats.ts";
import { readMidi } from "../../../core/tune/read-midi.ts";
import { readMusicXml } from "../../../core/tune/read-musicxml.ts";
import type { ReadTunes, Tune } from "../../../core/tune/tune.ts";
import { writeAbc } from "../../../core/tune/write-abc.ts";
import { writeMidi } from "../../../core/tune/write-midi.ts";
import { writeMusicXml } from "../../../core/tune/write-musicxml.ts";
import { musicOf } from "../../support/any-tune.ts";
import { shippedTunes } from "../../support/shipped-tunes.ts";

function only(read: ReadTunes): Tune {
  const [tune] = read.kind === "tunes" ? read.tunes : [];
  if (tune === undefined) throw new Error(read.kind === "tunes" ? "no tune" : read.reason);
  return tune;
}

/** Everything but places in the text, numbers of notes as written, and remarks. */
const contentOf = ({ bars: _, notes, chords, remarks, ...rest }: Tune) => ({ ...rest, played: notes.length });

const tunes = [...shippedTunes("traditional"), ...shippedTunes("village-band")].map((text) =>
  only(readAbc(text)),
);

describe("tunes that come along, written and read again", () => {
  test("there are tunes to write", () => {
    expect(tunes.length).toBeGreaterThan(20);
  });

  test.each(tunes)("as ABC, with nothing lost: $title", (tune) => {
    const back = only(readAbc(writeAbc(tune)));
    expect(musicOf(back)).toEqual(musicOf(tune));
    expect(contentOf(back)).toEqual(contentOf(tune));
  });

  test.each(tunes)("as MusicXML, with nothing lost but the number: $title", (tune) => {
    const back = only(readMusicXml(new TextEncoder().encode(writeMusicXml(tune))));
    expect(musicOf(back)).toEqual(musicOf(tune));
    const byKind = (one: Tune) => [...one.fields].sort((a, b) => (a.kind < b.kind ? -1 : 1));
    expect({ ...contentOf(back), fields: byKind(back), number: 0 }).toEqual({
      ...contentOf(tune),
      fields: byKind(tune),
      number: 0,
    });
  });

  test.each(tunes)("as MIDI, every note where it was: $title", (tune) => {
    const back = only(readMidi(writeMidi(tune)));
    const line = (one: Tune) =>
      one.notes.map(({ startTicks, lengthTicks, midi }) => [startTicks, lengthTicks, midi]);
    expect(line(back)).toEqual(line(tune));
    expect(back.bars.map(({ startTicks, kind }) => [startTicks, kind])).toEqual(
      tune.bars.map(({ startTicks, kind }) => [startTicks, kind]),
    );
  });

  test.each(tunes)("with its repeats folded again, no bar written twice: $title", (tune) => {
    const asWritten = new Set(tune.bars.map((bar) => bar.written)).size;
    expect(foldRepeats(tune)).toHaveLength(asWritten);
  });
});
