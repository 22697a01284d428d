import { namer } from "../../pitch/note-names.ts";
import type { FoldedBar } from "../fold-repeats.ts";
import { fifthsOfSignature, lettersApart, spellingsOfKey } from "../key-signature.ts";
import { type StaffSign, staffSigns } from "../staff-signs.ts";
import type { Tempo } from "../tempo.ts";
import { semibreves } from "../tempo.ts";
import { type Metre, TICKS_PER_SEMIBREVE, type Tune, type TuneBar, type TuneKey } from "../tune.ts";
import { chordParts, kindOfSuffix, suffixOfKind } from "./chord-kinds.ts";
import { noteElements, type SheetTab } from "./note-elements.ts";
import { element, elementWith, type XmlNode } from "./xml-text.ts";

const TICKS_PER_CROTCHET = TICKS_PER_SEMIBREVE / 4;

/** `measure` elements of a tune's bars as written. */
export function measureElements(
  tune: Tune,
  folded: readonly FoldedBar[],
  tab: SheetTab | null,
): readonly XmlNode[] {
  const signs = staffSigns(tune);
  const divisionTicks = divisionOf(signs);
  const nameOf = namer(spellingsOfKey(tune.key));
  let metre: Metre | null | undefined;
  let number = folded[0] && tune.bars[folded[0].passes[0] ?? 0]?.kind === "pick-up" ? -1 : 0;
  return folded.map((written, at) => {
    const bar = tune.bars[written.passes[0] ?? 0];
    if (bar === undefined) throw new RangeError(`there is no bar ${written.passes[0]}`);
    const first = at === 0;
    const attributes = [
      ...(first ? [element("divisions", TICKS_PER_CROTCHET / divisionTicks), keyElement(tune.key)] : []),
      ...(first || !sameMetre(metre, bar.metre) ? [timeElement(bar.metre)] : []),
    ];
    metre = bar.metre;
    const notes = (signs[bar.index] ?? []).flatMap((sign, place) => [
      ...sign.symbols.flatMap(harmony),
      ...noteElements(sign, {
        divisionTicks,
        nameOf,
        tab: tab === null ? [] : tabOf(tab, written, signs, place),
        tabAs: tab?.as ?? "lyric",
      }),
    ]);
    return elementWith("measure", measureAttributes(bar, ++number), [
      ...leftBarline(written),
      ...(attributes.length === 0 ? [] : [element("attributes", attributes)]),
      ...(first && tune.tempoFrom === "tune" ? [tempoElement(tune.tempo)] : []),
      ...notes,
      ...rightBarline(written, folded[at + 1]),
    ]);
  });
}

const sameMetre = (one: Metre | null | undefined, other: Metre | null) =>
  one !== undefined && one?.beats === other?.beats && one?.unit === other?.unit;

/** `implicit` marks bars that are not counted. */
function measureAttributes(bar: TuneBar, number: number): XmlNode["attributes"] {
  return bar.kind === "pick-up" ? { number, implicit: "yes" } : { number };
}

/** Ticks of the longest division in which all lengths are whole. */
function divisionOf(signs: readonly (readonly StaffSign[])[]): number {
  const lengths = signs.flatMap((bar) => bar.map((sign) => sign.lengthTicks));
  return lengths.reduce(greatestCommonDivisor, TICKS_PER_CROTCHET);
}

function greatestCommonDivisor(one: number, other: number): number {
  return other === 0 ? one : greatestCommonDivisor(other, one % other);
}

/** Tab of the same note on every pass; once where it is always the same. */
function tabOf(
  tab: SheetTab,
  written: FoldedBar,
  signs: readonly (readonly StaffSign[])[],
  place: number,
): readonly string[] {
  const texts = written.passes.map((pass) => {
    const index = signs[pass]?.[place]?.note?.index;
    return (index === undefined ? null : tab.texts[index]) ?? "";
  });
  const same = texts.every((text) => text === texts[0]);
  return same ? texts.slice(0, 1).filter((text) => text !== "") : texts.map((text) => text || "–");
}

/** `key`: fifths and mode, or each letter of a signature that is not one of the fifteen. */
function keyElement(key: TuneKey): XmlNode {
  const fifths = fifthsOfSignature(key.signature);
  if (fifths !== null) {
    return element("key", [element("fifths", fifths), element("mode", key.mode ?? "none")]);
  }
  const letters = lettersApart(key.signature, {});
  return element(
    "key",
    letters.flatMap((letter) => [
      element("key-step", letter),
      element("key-alter", key.signature[letter] ?? 0),
    ]),
  );
}

function timeElement(metre: Metre | null): XmlNode {
  if (metre === null) return element("time", [element("senza-misura")]);
  return element("time", [element("beats", metre.beats), element("beat-type", metre.unit)]);
}

const BEAT_UNITS: Readonly<Record<Tempo["noteValue"], readonly [string, dots: number]>> = {
  "1/8": ["eighth", 0],
  "1/4": ["quarter", 0],
  "3/8": ["quarter", 1],
  "1/2": ["half", 0],
};

/** `metronome` for people; `sound` counts crotchets whatever the beat. */
function tempoElement(tempo: Tempo): XmlNode {
  const [unit, dots] = BEAT_UNITS[tempo.noteValue];
  const crotchets = Math.round(tempo.bpm * 4 * semibreves(tempo.noteValue) * 1e6) / 1e6;
  return elementWith("direction", { placement: "above" }, [
    element("direction-type", [
      element("metronome", [
        element("beat-unit", unit),
        ...(dots > 0 ? [element("beat-unit-dot")] : []),
        element("per-minute", tempo.bpm),
      ]),
    ]),
    elementWith("sound", { tempo: crotchets }),
  ]);
}

/** `harmony`: what is no chord symbol, such as "N.C.", keeps its text. */
function harmony(symbol: string): readonly XmlNode[] {
  const parts = chordParts(symbol);
  if (parts === null) {
    const kind = elementWith("kind", { text: symbol }, "none");
    return [element("harmony", [element("root", rootOf("root", "C")), kind])];
  }
  const kind = kindOfSuffix(parts.suffix);
  const usual = suffixOfKind(kind) === parts.suffix;
  return [
    element("harmony", [
      element("root", rootOf("root", parts.root)),
      elementWith("kind", usual ? {} : { text: parts.suffix }, kind),
      ...(parts.bass === null ? [] : [element("bass", rootOf("bass", parts.bass))]),
    ]),
  ];
}

function rootOf(what: "root" | "bass", name: string): readonly XmlNode[] {
  const alter = name.endsWith("#") ? 1 : name.endsWith("b") ? -1 : 0;
  const step = element(`${what}-step`, name.charAt(0));
  return alter === 0 ? [step] : [step, element(`${what}-alter`, alter)];
}

function leftBarline(bar: FoldedBar): readonly XmlNode[] {
  if (bar.repeatFrom === 0 && bar.ending === null) return [];
  const style = bar.repeatFrom > 0 ? [element("bar-style", "heavy-light")] : [];
  const ending = bar.ending === null ? [] : [endingElement(bar.ending, "start")];
  const repeat = bar.repeatFrom > 0 ? [elementWith("repeat", { direction: "forward" })] : [];
  return [elementWith("barline", { location: "left" }, [...style, ...ending, ...repeat])];
}

const endingElement = (numbers: readonly number[], type: string) =>
  elementWith("ending", { number: numbers.join(", "), type });

function rightBarline(bar: FoldedBar, next: FoldedBar | undefined): readonly XmlNode[] {
  const ending =
    bar.endingEnds === null ? [] : [endingElement(bar.endingEnds, bar.repeatTo > 0 ? "stop" : "discontinue")];
  const ends = next === undefined || bar.repeatTo > 0;
  const style = ends ? "light-heavy" : bar.doubleBar ? "light-light" : null;
  if (style === null && ending.length === 0) return [];
  const times = bar.repeatTo > 2 ? { times: bar.repeatTo } : {};
  const repeat = bar.repeatTo > 0 ? [elementWith("repeat", { direction: "backward", ...times })] : [];
  const lines = style === null ? [] : [element("bar-style", style)];
  return [elementWith("barline", { location: "right" }, [...lines, ...ending, ...repeat])];
}
