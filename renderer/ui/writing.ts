import { createContext, useContext } from "react";
import { type ExpectedNote, holesOf } from "../../core/exercise/exercise.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";
import {
  type BendMark,
  chordTab,
  readChordTab,
  readTab,
  type TabForm,
  tab,
} from "../../core/instrument/tab.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { type NoteNaming, renamed } from "../../core/pitch/note-naming.ts";

/** How the player wants notes and reed actions written. */
export interface WritingChoice {
  readonly noteNames: NoteNaming;
  readonly tabForm: Exclude<TabForm, "words">;
  readonly bendMarks: BendMark;
}

export const USUAL_WRITING: WritingChoice = { noteNames: "letters", tabForm: "signs", bendMarks: "quotes" };

/** Core names notes by English letters and writes tab in signs; here it becomes what the player reads. */
export interface Writing {
  /** A note name with or without octave, "F#4". */
  readonly note: (name: string) => string;
  /** A chord's name, "F#m7": its root as a note. */
  readonly chord: (name: string) => string;
  readonly action: (action: ReedAction) => string;
  /** What a note asks for in tab; of a chord all its holes. */
  readonly asked: (note: Pick<ExpectedNote, "action" | "chord">) => string;
  /** Tab as core writes it, "-3''". */
  readonly tab: (text: string) => string;
  /** A sentence or title of core's: the notes, keys and tab within it. */
  readonly say: (text: string) => string;
}

/** The player's writing for a choice; the usual one gives everything back as it is. */
export function writingOf({ noteNames, tabForm, bendMarks }: WritingChoice): Writing {
  const note = (name: string) => renamed(name, noteNames);
  const action = (one: ReedAction) => tab(one, tabForm, bendMarks);
  const rewritten = (text: string) => {
    const read = readTab(text);
    if (read !== null) return action(read);
    const together = readChordTab(text);
    return together === null ? text : chordTab(together.breath, together.holes, tabForm);
  };
  const chord = (name: string) => name.replace(/^[A-G](?:##?|bb?)?/, note);
  const tabs = (text: string) => text.replace(TAB_TOKEN, rewritten);
  return {
    note,
    chord,
    asked: (asked) =>
      asked.chord === undefined
        ? action(asked.action)
        : chordTab(asked.action.breath, holesOf(asked), tabForm),
    action,
    tab: rewritten,
    // Tab first: afterwards a hole number may carry a letter, which then is no note.
    say: (text) =>
      TAB_PLACES.reduce((said, place) => said.replace(place, tabs), text)
        .replace(CHORD_ROW, (row) => row.split("-").map(chord).join("-"))
        .replace(LONE_CHORD, chord)
        .replace(NOTE_WITH_OCTAVE, note)
        .replace(KEY, note),
  };
}

const TAB_TOKEN = /-?\b\d{1,9}'*o?/g;
/** A hole, or the holes of a chord. */
const ONE_TAB = "-?\\d{1,9}'*o?";
const NAME = "[A-G](?:##?|bb?)?";
const NOTE_WITH_OCTAVE = new RegExp(`(?<![\\p{L}\\d])${NAME}-?\\d(?![\\p{L}\\d])`, "gu");
const CHORD = `${NAME}(?:m|maj|dim|aug|sus)?\\d*(?:b5)?`;
/** "G-D7-Em-G", a row of chords. */
const CHORD_ROW = new RegExp(`(?<![\\p{L}\\d-])${CHORD}(?:-${CHORD})+(?![\\p{L}\\d])`, "gu");
/** "F without its fifth", "no Bb on up to 3 neighbouring holes", "no A." */
const LONE_CHORD = new RegExp(
  `(?<![\\p{L}\\d])${CHORD}(?= without its)|(?<=\\bno )${CHORD}(?=[,.]| on up to)`,
  "gu",
);
/** A letter alone may be the word "A": it is a key before "harp", a mode or a set of degrees. */
const KEY = new RegExp(`(?<![\\p{L}\\d])${NAME}(?= (?:harp|${MODE_NAMES.join("|")}|\\(1 ))`, "gu");

/** Where core's sentences hold tab; any other number in them is one. */
const TAB_PLACES: readonly RegExp[] = [
  // "note 3 (-4): ..."
  new RegExp(`(?<=\\b[Nn]ote \\d+ )\\(${ONE_TAB}\\)`, "g"),
  // "heard A4 (-5 or 6)"
  new RegExp(`(?<=\\b${NAME}-?\\d )\\(${ONE_TAB}(?: or ${ONE_TAB})*\\)`, "g"),
  // "heard -345: neighbour hole"
  /(?<=\bheard )-?\d{1,9}(?=[;:.]|$)/g,
  // "-5 instead of 5"
  new RegExp(`(?<![\\w'])${ONE_TAB} instead of ${ONE_TAB}`, "g"),
  // "-5 sounds along at -12 dB"
  new RegExp(`(?<![\\w'])${ONE_TAB}(?= sounds along)`, "g"),
  // "bend too shallow on -3''"
  new RegExp(`(?<=\\btoo (?:shallow|deep) on )${ONE_TAB}`, "g"),
  // "Matching ... to plain 6 (G5)"
  new RegExp(`(?<=\\bto plain )${ONE_TAB}(?= \\()`, "g"),
  // "-3'' - G harp", "4 to -4 - G harp"
  new RegExp(`^${ONE_TAB}(?: to ${ONE_TAB})?(?= - )`, "g"),
  // "with -2' and -3'' in tune"
  new RegExp(`(?<=\\bwith )${ONE_TAB}(?: and ${ONE_TAB})*(?= in tune)`, "g"),
];

/** The player's writing, for whoever shows notes or tab. */
export const WritingContext = createContext<Writing>(writingOf(USUAL_WRITING));
export const useWriting = (): Writing => useContext(WritingContext);
