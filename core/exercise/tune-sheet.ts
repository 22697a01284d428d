import type { ReedAction } from "../instrument/reed-actions.ts";
import { tab } from "../instrument/tab.ts";
import { sheetAbc } from "../tune/sheet-abc.ts";
import type { Tune } from "../tune/tune.ts";
import { midi } from "../units.ts";
import { lackingWords, movedName, onHarpWords } from "./on-harp-words.ts";
import { staffClef, staffOctaves, staffOctaveWords } from "./staff-octave.ts";
import type { TunePlan } from "./tune-plan.ts";

const OCTAVE = 12;

/** How what stands on a sheet besides the music is written. */
export interface SheetWriting {
  readonly action: (action: ReedAction) => string;
  /** A line of words that may name notes. */
  readonly say: (words: string) => string;
}

const USUAL_WRITING: SheetWriting = { action: (action) => tab(action), say: (words) => words };

/**
 * The sheet of a tune laid on a harp, as ABC: at the pitch it is played, or octaves off where that would leave the staff, and
 * says so; with tab, breath marks, harp and position.
 */
export function tuneSheet(
  tune: Tune,
  plan: Pick<TunePlan, "harp" | "shift" | "path" | "balance">,
  { action: written, say }: SheetWriting = USUAL_WRITING,
): string {
  const lacking = lackingWords(tune, plan);
  const lowered = staffOctaves(tune.notes.map((note) => midi(note.midi + plan.shift)));
  const octave = staffOctaveWords(lowered);
  return sheetAbc(movedByOctaves(tune, plan.shift / OCTAVE - lowered), {
    clef: staffClef(lowered),
    tabs: plan.path.actions.map((action) => (action === null ? null : written(action))),
    breathAfter: plan.balance.places.map(({ after }) => after),
    words: [
      [onHarpWords(tune, plan), ...(octave === "" ? [] : [`${octave} than written`])].join(", "),
      ...(lacking === "" ? [] : [`This harp lacks ${lacking}`]),
    ].map(say),
  });
}

/** The tune with every note so many whole octaves higher. */
function movedByOctaves(tune: Tune, octaves: number): Tune {
  if (octaves === 0) return tune;
  const pitch = <T extends { readonly midi: Tune["notes"][number]["midi"]; readonly name: string }>(
    note: T,
  ) => ({
    ...note,
    midi: midi(note.midi + OCTAVE * octaves),
    name: movedName(note.name, octaves),
  });
  const notes = tune.notes.map((note) => ({
    ...pitch(note),
    ornaments: note.ornaments.map((ornament) => ({ ...ornament, notes: ornament.notes.map(pitch) })),
    ...(note.chord === undefined ? {} : { chord: note.chord.map((one) => midi(one + OCTAVE * octaves)) }),
  }));
  return { ...tune, notes };
}
