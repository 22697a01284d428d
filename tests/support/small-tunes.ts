import { midiOfName } from "../../core/pitch/note-names.ts";
import type { Tune, TuneBar, TuneNote } from "../../core/tune/tune.ts";
import { TICKS_PER_SEMIBREVE } from "../../core/tune/tune.ts";
import { bpm, ticks } from "../../core/units.ts";

const QUAVER = TICKS_PER_SEMIBREVE / 8;

/** One bar as played: its written number and its notes, "D4 E4 F#4:2"; the number after the colon counts quavers; z rests. */
export interface BarText {
  readonly written: number;
  readonly notes: string;
  readonly kind?: TuneBar["kind"];
}

/** A small tune in 4/4 at minim = 120, so a quaver lasts an eighth of a second: [calc] 60 / 120 / 4. */
export function tuneOf(barTexts: readonly BarText[], changes: Partial<Tune> = {}): Tune {
  const bars: TuneBar[] = [];
  const notes: TuneNote[] = [];
  let at = 0;
  for (const [index, { written, notes: text, kind = "whole" }] of barTexts.entries()) {
    const start = at;
    for (const [place, word] of text.split(" ").entries()) {
      const [name = "", length = "1"] = word.split(":");
      const lengthTicks = ticks(Number(length) * QUAVER);
      if (name !== "z") {
        const pitch = midiOfName(name);
        if (pitch === null) throw new Error(`"${name}" is no note`);
        notes.push({
          index: notes.length,
          startTicks: ticks(at),
          lengthTicks,
          midi: pitch,
          name,
          bar: index,
          written: 100 * written + place,
          place: null,
          ornaments: [],
        });
      }
      at += lengthTicks;
    }
    bars.push({
      index,
      startTicks: ticks(start),
      lengthTicks: ticks(at - start),
      written,
      pass: barTexts.slice(0, index).filter((bar) => bar.written === written).length,
      metre: { beats: 4, unit: 4 },
      strain: "A",
      kind,
    });
  }
  return {
    number: 1,
    title: "The Village Hall",
    otherTitles: [],
    fields: [],
    dance: "reel",
    rhythm: "reel",
    metre: { beats: 4, unit: 4 },
    key: { tonic: "G", mode: "major", signature: { F: 1 }, sure: true },
    tempo: { noteValue: "1/2", bpm: bpm(120) },
    tempoFrom: "tune",
    bars,
    notes,
    chords: [],
    remarks: [],
    ...changes,
  };
}
