import type { Special } from "./made-abc.ts";

/** Why abc2midi 4.84 plays a construct otherwise than we do, clause by clause of ABC 2.1. */
export const DIFFERENCES: Readonly<Record<Special, string>> = {
  "part endings":
    "4.10: a part played as often as it has endings takes one each time. abc2midi plays all of them each time.",
  "multiple repeat": "4.8: |:: and ::| mean three times. abc2midi plays twice.",
  "double bar":
    "4.8: a repeat without a beginning goes back to the latest double bar line. abc2midi goes to the beginning.",
  "section not closed":
    "4.8: |: where another |: is still open. abc2midi takes the second for :: and repeats what was not asked to be.",
  "tie into repeat":
    "4.11: a tie over :| leads to both notes that can follow. abc2midi sounds the tied note over the repeat's first.",
  "tie into endings":
    "4.11: a tie into the first ending leads into the second too. abc2midi sounds the second ending's note twice.",
  "da capo": "4.14: D.C. and Fine are played. abc2midi does not know them.",
  hornpipe: "3.1.15: R: names a dance and changes no length. abc2midi swings hornpipes by itself.",
  "five in three four":
    "4.13: only 6/8, 9/8 and 12/8 are compound, so (5, (7 and (9 in 3/4 go into the time of two. abc2midi takes three.",
  "five after a change of metre":
    "4.13: what a bare (5 goes into depends on the metre in force. abc2midi looks at the header's only.",
  "invisible bar line": "4.10: an ending ends with ||, :|, |] or [|. abc2midi ends it with [|] too.",
  staccato: "4.14: a dot over a note changes no written length. abc2midi plays half of it.",
  roll: "4.14: rolls and trills are kept as ornaments. abc2midi plays their notes.",
};

export interface ExampleDifference {
  readonly why: string;
  /** Pitches and their order are the same, only times differ. */
  readonly timesOnly: boolean;
}

const HORNPIPE = { why: DIFFERENCES.hornpipe, timesOnly: true };
const RATIO = { why: "its %%MIDI ratio 2 1 changes broken rhythm for abc2midi alone", timesOnly: true };
const QUARTER_TONES = {
  why: "its quarter tones are bends there; here they are read as the whole accidental, with a remark",
  timesOnly: false,
};
const TEMPERAMENT = {
  why: "its chords are shared out among channels, to be bent apart in another temperament",
  timesOnly: false,
};

/** Tunes of abc2midi's own example files that are read otherwise: file and number, and why. */
export const EXAMPLE_DIFFERENCES: Readonly<Record<string, ExampleDifference>> = {
  "baym_rebin.abc 63": {
    why: "its K: C^f^c^a has no space before the accidentals: read here, passed over there",
    timesOnly: false,
  },
  "coleraine.abc 8": RATIO,
  "daramud.abc 1": QUARTER_TONES,
  "demo.abc 2": HORNPIPE,
  "demo.abc 6": HORNPIPE,
  "demo.abc 9": QUARTER_TONES,
  "demo.abc 10": { why: "its %%MIDI trim shortens notes for abc2midi alone", timesOnly: true },
  "demo.abc 12": HORNPIPE,
  "dergasn.abc 145": { why: `its trills: ${DIFFERENCES.roll}`, timesOnly: false },
  "detune.abc 2": TEMPERAMENT,
  "drums.abc 1": { why: "it has rests alone: its drums are %%MIDI directives", timesOnly: false },
  "temperament.abc 1": TEMPERAMENT,
  "temperament.abc 2": QUARTER_TONES,
};
