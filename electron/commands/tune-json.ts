import { badTuneInWords } from "../../core/tune/bad-tune-words.ts";
import { semibreves, type Tempo } from "../../core/tune/tempo.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../core/tune/tune.ts";
import { keyInWords, metreInWords } from "../../core/tune/tune-list.ts";
import type { TuneFile } from "./tune-files.ts";

/** A tune as commands name it that print something about it. */
export function tuneHeading(file: TuneFile, tune: Tune) {
  return {
    file: file.path,
    fileKind: file.file,
    number: tune.number,
    title: tune.title,
    key: keyInWords(tune.key),
    metre: metreInWords(tune.metre),
    tempo: { bpm: tune.tempo.bpm, noteValue: tune.tempo.noteValue, from: tune.tempoFrom },
  };
}

/** Tunes of the file that could not be read, each in one line. */
export const leftOutOf = (file: TuneFile): readonly string[] =>
  file.bad.map((bad) => `${file.path}: ${badTuneInWords(bad)}`);

/** A tune with all its notes, in playing order. */
export function tuneToJson(file: TuneFile, tune: Tune) {
  const at = secondsOf(tune.tempo);
  return {
    schema: "reedpath.tune",
    version: 1,
    ...tuneHeading(file, tune),
    otherTitles: tune.otherTitles,
    fields: tune.fields,
    rhythm: tune.rhythm,
    dance: tune.dance,
    keySignature: {
      tonic: tune.key.tonic,
      mode: tune.key.mode,
      accidentals: tune.key.signature,
      sure: tune.key.sure,
    },
    ticksPerSemibreve: TICKS_PER_SEMIBREVE,
    lengthSeconds: at(tune.bars.reduce((end, bar) => Math.max(end, bar.startTicks + bar.lengthTicks), 0)),
    bars: tune.bars.map(({ metre, ...bar }) => ({ ...bar, metre: metreInWords(metre) })),
    notes: tune.notes.map(({ place, ...note }) => ({
      ...note,
      startSeconds: at(note.startTicks),
      lengthSeconds: at(note.lengthTicks),
      line: place?.line ?? null,
      column: place?.column ?? null,
    })),
    chords: tune.chords.map((chord) => ({ ...chord, atSeconds: at(chord.atTicks) })),
    midi:
      file.midi === null
        ? null
        : {
            track: file.midi.track,
            grid: file.midi.quantised.grid,
            largestShiftMs: file.midi.quantised.largestShift,
            shiftsMs: file.midi.quantised.shifts,
          },
    remarks: [...file.remarks, ...tune.remarks].map(({ place, words }) => ({
      line: place?.line ?? null,
      column: place?.column ?? null,
      words,
    })),
    leftOut: leftOutOf(file),
  };
}

/** Seconds of a place in the tune at its tempo, to a millionth. */
function secondsOf({ bpm, noteValue }: Tempo): (ticks: number) => number {
  const aTick = 60 / (bpm * semibreves(noteValue) * TICKS_PER_SEMIBREVE);
  return (ticks) => Math.round(ticks * aTick * 1e6) / 1e6;
}
