import { foldRepeats } from "./fold-repeats.ts";
import { measureElements } from "./musicxml/measure-elements.ts";
import type { SheetTab } from "./musicxml/note-elements.ts";
import { element, elementWith, type XmlNode, xmlText } from "./musicxml/xml-text.ts";
import type { Tune } from "./tune.ts";

export type { SheetTab } from "./musicxml/note-elements.ts";

const HEAD = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
`;

/**
 * Writes a tune as MusicXML 4.0, one part, repeats folded as in `writeAbc`.
 *
 * MusicXML has no element for the holes of a mouth organ (`hole` is a finger hole of a flute), so tab goes into a lyric line,
 * which every program shows under the staff, one verse for each time a bar is played where they differ; or into
 * `other-technical`, for programs that read it.
 *
 * @param tab what stands under each note, by its place in playing order
 * @returns the file's text, to be stored as UTF-8
 * @throws RangeError if notes overlap or a note's name has more than two accidentals
 *
 * Source: MusicXML 4.0, W3C Music Notation Community Group, 2021.
 */
export function writeMusicXml(tune: Tune, tab?: SheetTab): string {
  const measures = measureElements(tune, foldRepeats(tune), tab ?? null);
  const score = elementWith("score-partwise", { version: "4.0" }, [
    element("work", [element("work-title", tune.title)]),
    identification(tune),
    element("part-list", [part()]),
    elementWith("part", { id: "P1" }, measures),
  ]);
  return HEAD + xmlText(score);
}

/** `creator`, `rights` and `source` where MusicXML has them, other fields as `miscellaneous-field`. */
function identification(tune: Tune): XmlNode {
  const of = (kind: string) => tune.fields.filter((field) => field.kind === kind).map(({ text }) => text);
  const named = ["composer", "copyright"];
  const others = [
    ...tune.otherTitles.map((text) => ({ kind: "other title", text })),
    ...tune.fields.filter(({ kind }) => !named.includes(kind)),
    ...(tune.rhythm === null ? [] : [{ kind: "rhythm", text: tune.rhythm }]),
  ];
  return element("identification", [
    ...of("composer").map((text) => elementWith("creator", { type: "composer" }, text)),
    ...of("copyright").map((text) => element("rights", text)),
    ...(others.length === 0 ? [] : [element("miscellaneous", others.map(miscellaneous))]),
  ]);
}

const miscellaneous = ({ kind, text }: { readonly kind: string; readonly text: string }) =>
  elementWith("miscellaneous-field", { name: kind }, text);

/** The sound is named as the standard's list of sounds has it; the program as General MIDI counts, from 1. */
function part(): XmlNode {
  return elementWith("score-part", { id: "P1" }, [
    element("part-name", "Harmonica"),
    elementWith("score-instrument", { id: "P1-I1" }, [
      element("instrument-name", "Harmonica"),
      element("instrument-sound", "wind.reed.harmonica"),
    ]),
    elementWith("midi-instrument", { id: "P1-I1" }, [
      element("midi-channel", 1),
      element("midi-program", 23),
    ]),
  ]);
}
