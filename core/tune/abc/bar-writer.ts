import { midi } from "../../units.ts";
import type { Metre, Ornament, Place } from "../tune.ts";
import { TICKS_PER_SEMIBREVE } from "../tune.ts";
import type { Jump, WrittenBar, WrittenNote } from "../written-bar.ts";
import type { BarToken } from "./music-tokens.ts";
import type { WaySign } from "./way-signs.ts";

/** A note or rest while the lengths of its neighbours may still change it. */
export interface Sound {
  /** Semibreves; exact up to the rounding of one division. */
  semibreves: number;
  readonly pitch: { readonly midi: number; readonly name: string; readonly chord: readonly number[] } | null;
  tiedOn: boolean;
  /** Grace notes written after the note may come later. */
  readonly ornaments: Ornament[];
  readonly place: Place | null;
}

interface Draft {
  readonly sounds: Sound[];
  /** Before which sound each chord symbol stands. */
  readonly chords: { readonly before: number; readonly symbol: string }[];
  metre: Metre | null;
  part: string | null;
  ending: readonly number[] | null;
  repeatFrom: number;
  segno: boolean;
  codaSign: boolean;
}

/** What is decided at the end of a bar, or of the last one written. */
interface Closing {
  closed: boolean;
  repeatTo: number;
  doubleBar: boolean;
  fine: boolean;
  codaSign: boolean;
  toCoda: boolean;
  jump: Jump | null;
}

type Written = { readonly draft: Draft; readonly end: Closing };

const openEnd = (): Closing => ({
  closed: true,
  repeatTo: 0,
  doubleBar: false,
  fine: false,
  codaSign: false,
  toCoda: false,
  jump: null,
});

/** Puts bars together, one sound, sign and bar line at a time. */
export class BarWriter {
  readonly #written: Written[] = [];
  #draft: Draft;
  /** Way signs met since the last sound: the bar line they may stand over decides what they mean. */
  #signs: WaySign[] = [];

  constructor(metre: Metre | null) {
    this.#draft = this.#newDraft(metre);
  }

  get bars(): number {
    return this.#written.length;
  }

  #newDraft(metre: Metre | null): Draft {
    return {
      sounds: [],
      chords: [],
      metre,
      part: null,
      ending: null,
      repeatFrom: 0,
      segno: false,
      codaSign: false,
    };
  }

  /** A change of metre holds for the bar it stands in where nothing sounded yet, else from the next. */
  setMetre(metre: Metre | null): void {
    if (this.#draft.sounds.length === 0) this.#draft.metre = metre;
  }

  addSound(sound: Sound): void {
    for (const sign of this.#signs.splice(0)) this.#overNote(sign);
    // What has no length makes no bar.
    if (sound.semibreves > 0) this.#draft.sounds.push(sound);
  }

  addChord(symbol: string): void {
    this.#draft.chords.push({ before: this.#draft.sounds.length, symbol });
  }

  addSign(sign: WaySign): void {
    this.#signs.push(sign);
  }

  startPart(label: string, metre: Metre | null): void {
    this.#split(metre);
    this.#draft.part = label;
  }

  startEnding(numbers: readonly number[], metre: Metre | null): void {
    this.#split(metre);
    this.#draft.ending = numbers;
  }

  /** Begins anew within a bar, where playing may come or go. */
  #split(metre: Metre | null): void {
    if (this.#draft.sounds.length === 0) return;
    this.#close({ ...openEnd(), closed: false }, metre);
  }

  endBar(
    { repeatTo, repeatFrom, double }: Pick<BarToken, "repeatTo" | "repeatFrom" | "double">,
    metre: Metre | null,
  ): void {
    if (this.#draft.sounds.length > 0) this.#close(openEnd(), metre);
    const last = this.#written.at(-1);
    if (last !== undefined) {
      last.end.closed = true;
      last.end.repeatTo = Math.max(last.end.repeatTo, repeatTo);
      last.end.doubleBar ||= double;
    }
    for (const sign of this.#signs.splice(0)) this.#overBarLine(sign);
    this.#draft.repeatFrom = Math.max(this.#draft.repeatFrom, repeatFrom);
  }

  #close(end: Closing, metre: Metre | null): void {
    this.#written.push({ draft: this.#draft, end });
    this.#draft = this.#newDraft(metre);
  }

  /** Over a note a sign to come back to stands for the beginning of its bar, a word to leave at for the end. */
  #overNote(sign: WaySign): void {
    const first = this.#draft.sounds.length === 0;
    if (sign.kind === "segno") this.#draft.segno = true;
    else if (sign.kind === "coda" && first) this.#draft.codaSign = true;
    else this.#late.push({ at: this.#written.length, sign });
  }

  #overBarLine(sign: WaySign): void {
    if (sign.kind === "segno") this.#draft.segno = true;
    else if (this.#written.length > 0) this.#late.push({ at: this.#written.length - 1, sign });
    else if (sign.kind === "coda") this.#draft.codaSign = true;
  }

  /** Signs for the ends of bars that may not be closed yet. */
  readonly #late: { readonly at: number; readonly sign: WaySign }[] = [];

  /** All bars; the last needs no bar line. */
  finish(): readonly WrittenBar[] {
    if (this.#draft.sounds.length > 0) this.#close(openEnd(), null);
    const last = this.#written.length - 1;
    for (const sign of this.#signs.splice(0)) this.#late.push({ at: last, sign });
    for (const { at, sign } of this.#late) this.#leave(this.#written[Math.min(at, last)]?.end, sign);
    this.#settleCoda();
    return this.#written.map(writtenBar);
  }

  #leave(end: Closing | undefined, sign: WaySign): void {
    if (end === undefined) return;
    if (sign.kind === "fine") end.fine = true;
    else if (sign.kind === "to coda") end.toCoda = true;
    else if (sign.kind === "coda") end.codaSign = true;
    else if (sign.kind === "jump") end.jump = sign.jump;
  }

  /** The last coda sign is where the coda begins, those before are where it is gone to. */
  #settleCoda(): void {
    const signs = this.#written.flatMap(({ draft, end }, at) => [
      ...(draft.codaSign ? [{ at, late: false }] : []),
      ...(end.codaSign ? [{ at, late: true }] : []),
    ]);
    const coda = signs.pop();
    for (const { at, late } of signs) {
      const leave = this.#written[late ? at : at - 1];
      if (leave !== undefined) leave.end.toCoda = true;
    }
    for (const one of this.#written) one.draft.codaSign = false;
    const start = coda === undefined ? undefined : this.#written[coda.late ? coda.at + 1 : coda.at];
    if (start !== undefined) start.draft.codaSign = true;
  }
}

/** Onsets are rounded from exact sums, so that small remainders never add up. */
function writtenBar({ draft, end }: Written): WrittenBar {
  const onsets = [0];
  let sum = 0;
  for (const sound of draft.sounds) {
    sum += sound.semibreves;
    onsets.push(Math.round(sum * TICKS_PER_SEMIBREVE));
  }
  const at = (index: number) => onsets[index] ?? 0;
  return {
    notes: draft.sounds.flatMap((sound, index) => writtenNote(sound, at(index), at(index + 1))),
    chords: draft.chords.map(({ before, symbol }) => ({ atTicks: at(before), symbol })),
    lengthTicks: at(draft.sounds.length),
    metre: draft.metre,
    closed: end.closed,
    part: draft.part,
    repeatFrom: draft.repeatFrom,
    repeatTo: end.repeatTo,
    ending: draft.ending,
    doubleBar: end.doubleBar,
    segno: draft.segno,
    coda: draft.codaSign,
    toCoda: end.toCoda,
    fine: end.fine,
    jump: end.jump,
  };
}

function writtenNote(sound: Sound, from: number, to: number): readonly WrittenNote[] {
  const { pitch, tiedOn, ornaments, place } = sound;
  if (pitch === null || to === from) return [];
  return [
    {
      atTicks: from,
      lengthTicks: to - from,
      midi: midi(pitch.midi),
      name: pitch.name,
      tiedOn,
      place,
      ornaments,
      chord: pitch.chord.map(midi),
    },
  ];
}
