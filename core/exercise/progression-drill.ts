import { outside } from "./check-setting.ts";
import { type ModeChord, readNumerals, withoutChords } from "./chords.ts";
import type { DrillSpec, MadeExercise, ProgressionDrill } from "./drill-spec.ts";
import { bentNotes, explainMissing, ladderOf } from "./ladder.ts";
import { impossible, layOut, type Placed, runOn } from "./lay-out.ts";
import { homeAndMode, inPosition, type Reach, reachOf, type Step } from "./reach.ts";
import { bendsInWords } from "./scale-drill.ts";

/** A chord as it is broken: its notes next to each other, rising. */
type Voicing = readonly Step[];

/** Broken chords along a progression, by nearest notes. */
export function progressionDrill(spec: DrillSpec & { kind: "progression" }): MadeExercise {
  const reach = reachOf(spec);
  const reason = withoutChords(reach) ?? outside("the repeats", spec.repeats, 1, 32);
  if (reason !== null) return impossible(reason);
  const read = readNumerals(reach, spec.numerals);
  if (read.kind === "unreadable") return impossible(read.reason);
  const choices = read.chords.map((chord) => voicingsOf(reach, chord));
  const without = choices.findIndex((voicings) => voicings.length === 0);
  const lacking = read.chords[without];
  if (lacking !== undefined) return impossible(explainChord(reach, lacking));
  const path = nearestPath(spec, choices, read.chords[0]?.degrees[0] ?? "1", reach);
  const names = read.chords.map((chord) => chord.numeral).join("-");
  return layOut(spec, reach, {
    title: `${names} in ${homeAndMode(reach)}, broken chords`,
    trains: `Moving through ${names} ${inPosition(reach)} by the nearest notes of each chord, ${bendsInWords(path.flat())}.`,
    placed: breakChords(spec, path),
    running: spec,
  });
}

/** Every row of neighbouring chord notes the player can sound, lowest first. */
function voicingsOf(reach: Reach, chord: ModeChord): readonly Voicing[] {
  const { rungs, perOctave } = ladderOf(reach, chord.degrees);
  const found: Voicing[] = [];
  for (let low = 0; low + perOctave <= rungs.length; low++) {
    const steps: Step[] = [];
    for (const { note, action } of rungs.slice(low, low + perOctave))
      if (action !== null) steps.push({ note, action });
    if (steps.length === perOctave) found.push(steps);
  }
  return found;
}

function explainChord(reach: Reach, chord: ModeChord): string {
  const missing = ladderOf(reach, chord.degrees).rungs.filter((rung) => rung.action === null);
  const notes = missing.map((rung) => rung.note);
  return explainMissing(reach, `the chord ${chord.numeral} of ${homeAndMode(reach)}`, notes);
}

/**
 * One voicing a chord, each the nearest to the one before, begun on a root position where there is one.
 * Begun wherever the whole path then has the fewest bends, or as low as it goes.
 */
function nearestPath(
  spec: ProgressionDrill,
  choices: readonly (readonly Voicing[])[],
  root: string,
  reach: Reach,
): readonly Voicing[] {
  const [first = [], ...later] = choices;
  const rootNotes = new Set(ladderOf(reach, [root]).rungs.map((rung) => rung.note));
  const inRoot = first.filter((voicing) => voicing[0] !== undefined && rootNotes.has(voicing[0].note));
  const paths = (inRoot.length > 0 ? inRoot : first).map((begin) => {
    const path = [begin];
    for (const voicings of later) path.push(nearestTo(path.at(-1) ?? begin, voicings));
    return path;
  });
  const lowest = paths[0] ?? [];
  if (spec.start === "lowest") return lowest;
  const bends = (path: readonly Voicing[]) => path.reduce((sum, voicing) => sum + bentNotes(voicing), 0);
  return paths.reduce((best, next) => (bends(next) < bends(best) ? next : best), lowest);
}

function nearestTo(before: Voicing, voicings: readonly Voicing[]): Voicing {
  const way = (voicing: Voicing) =>
    voicing.reduce((sum, step, place) => sum + Math.abs(step.note - (before[place] ?? step).note), 0);
  return voicings.reduce((best, next) => (way(next) < way(best) ? next : best), voicings[0] ?? before);
}

/** Each chord begins on a beat; what is left of its last beat is rest. */
function breakChords(spec: ProgressionDrill, path: readonly Voicing[]): readonly Placed[] {
  const placed: Placed[] = [];
  let at = 0;
  for (let repeat = 0; repeat < spec.repeats; repeat++) {
    for (const voicing of path) {
      const back = spec.figure === "up" ? [] : [...voicing].reverse().slice(1, -1);
      const notes = [...voicing, ...back];
      placed.push(...runOn(notes, spec.notesPerBeat, at));
      at += Math.ceil(notes.length / spec.notesPerBeat - 1e-9);
    }
  }
  return placed;
}
