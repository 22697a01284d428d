import type { HoleChoice } from "./hole-choices.ts";

/** What the choices of one hole do to what is covered: all with the same effect are one group. */
export interface EffectGroup {
  /** Notes covered that later holes could cover too, as bits of the next border. */
  readonly adds: number;
  /** Notes covered for which this hole is the last, as bits of the border before it. */
  readonly ends: number;
  /** Places in the hole's list of choices. */
  readonly choices: readonly number[];
}

/** One hole between two borders. */
export interface HoleStep {
  readonly choices: readonly HoleChoice[];
  readonly groups: readonly EffectGroup[];
  /** Bits of the border before it that no later hole can cover: they must be covered when this hole is done. */
  readonly lastCall: number;
  /** For each bit of the border before it its bit in the next one; 0 where the note ends here. */
  readonly carried: readonly number[];
}

/** Most notes that may hang between the holes before and after a border. */
export const WIDEST_BORDER = 22;

/**
 * Cuts covering notes by holes into steps. Between hole h and hole h + 1 only those notes matter that holes on both sides can
 * sound: a few, as reeds climb. Which of them are covered already is all that the holes after need to know of those before.
 *
 * @param choices for each hole its ways to be tuned, all of them
 * @param notes   to be covered, semitones above the key note
 * @returns the steps; null where a note lies out of every hole's reach; "too wide" where more than `WIDEST_BORDER` notes hang
 */
export function frontierSteps(
  choices: readonly (readonly HoleChoice[])[],
  notes: readonly number[],
): readonly HoleStep[] | null | "too wide" {
  const spans = notes.map((note) => spanOf(choices, note));
  if (spans.some((span) => span === null)) return null;
  const isOpenAt = (note: number, border: number) => {
    const span = spans[note] ?? null;
    return span !== null && span.first < border && span.last >= border;
  };
  const borders = Array.from({ length: choices.length + 1 }, (_, border) =>
    [...notes.keys()].filter((note) => isOpenAt(note, border)),
  );
  if (borders.some((border) => border.length > WIDEST_BORDER)) return "too wide";
  return choices.map((its, hole) => {
    const before = borders[hole] ?? [];
    const after = borders[hole + 1] ?? [];
    const own = [...notes.keys()].filter((note) => spans[note]?.first === hole && spans[note]?.last === hole);
    const bitIn = (border: readonly number[], note: number) => {
      const place = border.indexOf(note);
      return place < 0 ? 0 : 1 << place;
    };
    return {
      choices: its,
      groups: groupsOf(its, notes, own, (note) => ({
        adds: bitIn(after, note),
        ends: after.includes(note) ? 0 : bitIn(before, note),
      })),
      lastCall: before.reduce((bits, note) => bits | (after.includes(note) ? 0 : bitIn(before, note)), 0),
      carried: before.map((note) => bitIn(after, note)),
    };
  });
}

/** First and last hole, counted from 0, that has a choice with the note. */
function spanOf(choices: readonly (readonly HoleChoice[])[], note: number) {
  const holes = choices.flatMap((its, hole) => (its.some((one) => sounds(one, note)) ? [hole] : []));
  const [first] = holes;
  const last = holes.at(-1);
  return first === undefined || last === undefined ? null : { first, last };
}

const sounds = (choice: HoleChoice, note: number) => choice.blow === note || choice.draw === note;

function groupsOf(
  choices: readonly HoleChoice[],
  notes: readonly number[],
  own: readonly number[],
  bitsOf: (note: number) => { readonly adds: number; readonly ends: number },
): readonly EffectGroup[] {
  const groups = new Map<string, { adds: number; ends: number; choices: number[] }>();
  for (const [place, choice] of choices.entries()) {
    // Notes that only this hole can sound must be in whatever it is tuned to.
    if (!own.every((note) => sounds(choice, notes[note] ?? Number.NaN))) continue;
    let adds = 0;
    let ends = 0;
    for (const [note, sounding] of notes.entries()) {
      if (!sounds(choice, sounding)) continue;
      const bits = bitsOf(note);
      adds |= bits.adds;
      ends |= bits.ends;
    }
    const key = `${adds} ${ends}`;
    const group = groups.get(key) ?? { adds, ends, choices: [] };
    group.choices.push(place);
    groups.set(key, group);
  }
  return [...groups.values()];
}

/** What is covered before a hole and still counts after it, as bits of the next border. */
export function carriedOver(step: HoleStep, covered: number): number {
  let after = 0;
  for (let left = covered; left !== 0; left &= left - 1)
    after |= step.carried[31 - Math.clz32(left & -left)] ?? 0;
  return after;
}

/** Whether every note for which the hole is the last is covered with a group of its choices. */
export const isDone = (step: HoleStep, covered: number, group: EffectGroup): boolean =>
  ((covered | group.ends) & step.lastCall) === step.lastCall;
