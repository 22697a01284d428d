import { BREATHS, type Layout } from "../../core/instrument/layout.ts";
import {
  bendsTo,
  changesBetween,
  chordNotes,
  isInOrder,
  type Limits,
  noteOfBend,
  orderOf,
  rangeOf,
  sameNotes,
} from "../../core/workshop/design/limits.ts";

/** Which limits a layout breaks against the one it began as, one line each; none where all are kept. */
export function brokenLimits(start: Layout, other: Layout, limits: Limits): readonly string[] {
  return [
    ...brokenShape(start, other),
    ...brokenReeds(start, other, limits),
    ...brokenHoles(start, other, limits),
    ...limits.chords
      .filter((chord) => !sameNotes(chordNotes(start, chord), chordNotes(other, chord)))
      .map(({ breath, holes }) => `${holes.join("-")} ${breath} no longer sounds its chord`),
  ];
}

function brokenShape(start: Layout, other: Layout): readonly string[] {
  const same =
    start.holes.length === other.holes.length &&
    start.holes.every((hole, index) =>
      BREATHS.every((breath) => (hole[breath] === null) === (other.holes[index]?.[breath] === null)),
    );
  return same ? [] : ["a reed was added or taken out"];
}

function brokenReeds(start: Layout, other: Layout, limits: Limits): readonly string[] {
  const changes = changesBetween(start, other);
  const tooFar = changes.flatMap(({ hole, breath, from, to }) => {
    const { up, down } = rangeOf(limits, hole, breath);
    return to - from > up || from - to > down ? [`${hole} ${breath} moves ${to - from} semitones`] : [];
  });
  const { mostChanged } = limits;
  const tooMany =
    mostChanged !== null && changes.length > mostChanged ? [`${changes.length} reeds are changed`] : [];
  return [...tooFar, ...tooMany];
}

function brokenHoles(start: Layout, other: Layout, limits: Limits): readonly string[] {
  const orders = other.holes.flatMap((hole, index) =>
    isInOrder(hole, orderOf(limits, index + 1))
      ? []
      : [`hole ${index + 1} is not as asked: ${orderOf(limits, index + 1)}`],
  );
  const bends = limits.bends.flatMap((bend) => {
    const note = noteOfBend(start, bend);
    const hole = other.holes[bend.hole - 1];
    return note !== null && hole !== undefined && bendsTo(hole, bend.breath, note)
      ? []
      : [`${bend.hole} ${bend.breath} no longer bends to the note it bent to by ${bend.bentSemitones}`];
  });
  return [...orders, ...bends];
}
