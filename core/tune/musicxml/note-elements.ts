import { midiOfName } from "../../pitch/note-names.ts";
import type { StaffSign } from "../staff-signs.ts";
import type { Ornament, TuneNote } from "../tune.ts";
import { noteType } from "./note-types.ts";
import { elementOfOrnament } from "./ornament-names.ts";
import { element, elementWith, type XmlNode } from "./xml-text.ts";

/** What to play each note with, to stand under the staff. */
export interface SheetTab {
  /** By `TuneNote.index`; null or "" for none. */
  readonly texts: readonly (string | null)[];
  /** Where it stands: "lyric" if not given. */
  readonly as?: "lyric" | "technical";
}

export interface NoteContext {
  readonly divisionTicks: number;
  readonly nameOf: (midi: TuneNote["midi"]) => string;
  /** Tab of the note, an entry for each pass; empty if there is none. */
  readonly tab: readonly string[];
  readonly tabAs: "lyric" | "technical";
}

/** `note` elements of a sign: grace notes, the note of the tune, the further notes of its chord; or a rest. */
export function noteElements(sign: StaffSign, context: NoteContext): readonly XmlNode[] {
  const { note } = sign;
  const duration = element("duration", sign.lengthTicks / context.divisionTicks);
  if (note === null) {
    return [
      element("note", [
        element("rest"),
        duration,
        element("voice", "1"),
        ...looksOf(sign),
        ...notations(sign, []),
      ]),
    ];
  }
  const ornaments = sign.tiedFrom ? [] : note.ornaments;
  const technical = context.tabAs === "technical" && !sign.tiedFrom ? context.tab : [];
  const lyrics = context.tabAs === "lyric" && !sign.tiedFrom ? context.tab : [];
  const ties = tieKinds(sign).map((type) => elementWith("tie", { type }));
  const one = (name: string, further: boolean) =>
    element("note", [
      ...(further ? [element("chord")] : []),
      pitch(name),
      duration,
      ...ties,
      element("voice", "1"),
      ...looksOf(sign),
      ...notations(sign, further ? [] : ornaments, further ? [] : technical),
      ...(further ? [] : lyrics.map(lyric)),
    ]);
  const chord = [...(note.chord ?? [])].reverse().map((midi) => one(context.nameOf(midi), true));
  const before = ornaments.filter(({ kind }) => kind !== "after-grace");
  const after = sign.tiedOn ? [] : note.ornaments.filter(({ kind }) => kind === "after-grace");
  return [...before.flatMap(graceNotes), one(note.name, false), ...chord, ...after.flatMap(graceNotes)];
}

const tieKinds = ({ tiedFrom, tiedOn }: StaffSign) => [
  ...(tiedFrom ? ["stop"] : []),
  ...(tiedOn ? ["start"] : []),
];

function graceNotes(ornament: Ornament): readonly XmlNode[] {
  return ornament.notes.map(({ name }) =>
    element("note", [element("grace"), pitch(name), element("voice", "1"), element("type", "16th")]),
  );
}

/** @throws RangeError if the name has no pitch */
function pitch(name: string): XmlNode {
  const match = /^([A-G])(#{0,2}|b{0,2})(-?\d+)$/.exec(name);
  if (match === null || midiOfName(name) === null)
    throw new RangeError(`no staff can show a note called "${name}"`);
  const [, step = "C", sign = "", octave = "4"] = match;
  const alter = sign.startsWith("b") ? -sign.length : sign.length;
  return element("pitch", [
    element("step", step),
    ...(alter === 0 ? [] : [element("alter", alter)]),
    element("octave", octave),
  ]);
}

/** `type`, `dot` and `time-modification`: how the length looks. */
function looksOf(sign: StaffSign): readonly XmlNode[] {
  const { tuplet } = sign;
  const looks = noteType(
    tuplet === null ? sign.lengthTicks : (sign.lengthTicks * tuplet.actual) / tuplet.normal,
  );
  return [
    ...(looks === null ? [] : [element("type", looks.type)]),
    ...Array.from({ length: looks?.dots ?? 0 }, () => element("dot")),
    ...(tuplet === null
      ? []
      : [
          element("time-modification", [
            element("actual-notes", tuplet.actual),
            element("normal-notes", tuplet.normal),
          ]),
        ]),
  ];
}

function notations(
  sign: StaffSign,
  ornaments: readonly Ornament[],
  technical: readonly string[] = [],
): readonly XmlNode[] {
  const { tuplet, note } = sign;
  const ties = note === null ? [] : tieKinds(sign).map((type) => elementWith("tied", { type }));
  const brackets = [
    ...(tuplet?.at === 0 ? ["start"] : []),
    ...(tuplet !== null && tuplet.at === tuplet.count - 1 ? ["stop"] : []),
  ].map((type) => elementWith("tuplet", { type }));
  const played = ornaments.filter((one) => one.notes.length === 0).map(ornamentNode);
  const other =
    technical.length === 0 ? [] : [element("technical", [element("other-technical", technical.join(" | "))])];
  const all = [...ties, ...brackets, ...played, ...other];
  return all.length === 0 ? [] : [element("notations", all)];
}

function ornamentNode({ kind }: Ornament): XmlNode {
  const { container, name } = elementOfOrnament(kind);
  const node = element(name, name === "other-ornament" ? kind : []);
  return container === "notations" ? node : element(container, [node]);
}

function lyric(text: string, verse: number): XmlNode {
  return elementWith("lyric", { number: verse + 1 }, [element("syllabic", "single"), element("text", text)]);
}
