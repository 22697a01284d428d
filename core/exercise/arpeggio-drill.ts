import { chordOn, explainNoChord, withoutChords } from "./chords.ts";
import type { DrillSpec, MadeExercise } from "./drill-spec.ts";
import {
  DIRECTION_WORDS,
  explainMissing,
  findStretch,
  inDirection,
  ladderOf,
  octavesInWords,
  unknownDegree,
} from "./ladder.ts";
import { impossible, layOut, runOn } from "./lay-out.ts";
import { homeAndMode, inPosition, reachOf } from "./reach.ts";
import { bendsInWords } from "./scale-drill.ts";

/** A broken chord on one degree of the mode. */
export function arpeggioDrill(spec: DrillSpec & { kind: "arpeggio" }): MadeExercise {
  const reach = reachOf(spec);
  const reason = withoutChords(reach) ?? unknownDegree(reach, spec.degree);
  if (reason !== null) return impossible(reason);
  const root = reach.degrees.findIndex((degree) => degree.name === spec.degree);
  const chord = chordOn(reach.degrees, root, spec.size);
  if (chord === null) return impossible(explainNoChord(reach, spec.degree));
  const range = { octaves: spec.octaves, start: spec.start, fromDegree: spec.degree };
  const found = findStretch(ladderOf(reach, chord.degrees), range);
  const what = `${chord.numeral} arpeggio of ${homeAndMode(reach)}`;
  const octaves = octavesInWords(spec.octaves);
  if (found.kind === "missing")
    return impossible(explainMissing(reach, `${octaves} of the ${what}`, found.notes));
  return layOut(spec, reach, {
    title: `${what}, ${octaves}, ${DIRECTION_WORDS[spec.direction]}`,
    trains: `Finding the notes of the chord ${chord.numeral} (${chord.degrees.join(" ")}) ${inPosition(reach)} by itself, ${bendsInWords(found.steps)}.`,
    placed: runOn(inDirection(found.steps, spec.direction), spec.notesPerBeat),
    running: spec,
  });
}
