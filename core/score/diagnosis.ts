import { type Exercise, type ExpectedNote, targetMidi } from "../exercise/exercise.ts";
import type { Breath } from "../instrument/layout.ts";
import { type ReedAction, sameAction } from "../instrument/reed-actions.ts";
import { actionInWords } from "../instrument/tab.ts";
import { centsBetween } from "../pitch/equal-temperament.ts";
import type { Cents, Midi } from "../units.ts";
import { type Diagnosis, type DiagnosisKind, type SecondReed, withinTolerance } from "./mark.ts";
import { type SoundingReed, soundingReeds } from "./reed-pitch.ts";

/** A reed blown hard lies up to 15 cents flat, one out of tune somewhat more: this near it is that reed. */
const SAME_REED_CENTS = 40;
/** A bend that stays this near its plain note was not begun. */
const UNBENT_CENTS = 30;
/** A pull of a bendable reed that comes this far is one. */
const PULLED_CENTS = 25;

/** How likely one mistake is against another that sounds as near, in units of `SAME_REED_CENTS`; small is likely. */
const UNLIKELY = {
  unbent: 0,
  wrongBreath: 0.1,
  neighbourHole: 0.15,
  octave: 0.3,
  bend: 0.4,
  twoHolesAway: 0.8,
  neighbourOtherBreath: 0.9,
} as const;
/** Two explanations closer than this cannot be told apart by sound. */
const TOO_CLOSE = 0.35;

interface Guess extends Omit<Diagnosis, "others"> {
  /** Unlikeliness of the mistake and distance from its pitch together. */
  readonly weight: number;
}

/**
 * Explains a note that is not the one asked for, from the layout in hand: of all mistakes that give this sound, the
 * likeliest.
 *
 * @param heard      pitch heard, fractional, A4 = 440 Hz
 * @param secondReed what sounded along with it, or null
 */
export function diagnose(
  exercise: Exercise,
  expected: ExpectedNote,
  heard: Midi,
  secondReed: SecondReed | null,
): Diagnosis {
  const off = centsBetween(heard, targetMidi(exercise, expected));
  const asked: Asked = { exercise, expected, heard, off, reeds: soundingReeds(exercise) };
  const two = twoHoles(asked, secondReed);
  const guesses = [...elsewhere(asked), ...bends(asked), ...octaves(asked)].sort(
    (a, b) => a.weight - b.weight,
  );
  const kinds = guesses
    .filter((one) => one.weight <= (guesses[0]?.weight ?? 0) + TOO_CLOSE)
    .map((one) => one.kind);
  const best = two ?? guesses[0] ?? unknown(asked);
  return { ...withoutWeight(best), others: [...new Set(kinds)].filter((kind) => kind !== best.kind) };
}

/**
 * Explains a bend that is on its way to its target and yet off it.
 *
 * @returns null for a plain note, and where it lies within `offCents`
 */
export function diagnoseBend(expected: ExpectedNote, offCents: Cents, limitCents: Cents): Diagnosis | null {
  if (expected.action.technique === "plain" || withinTolerance(offCents, limitCents)) return null;
  return { ...withoutWeight(shallowOrDeep(expected, offCents)), others: [] };
}

/** What is to be said of a right note along with which a neighbouring hole sounds. */
export function diagnoseSecondReed(expected: ExpectedNote, secondReed: SecondReed | null): Diagnosis | null {
  if (secondReed === null || !secondReed.loud || secondReed.hole === null) return null;
  if (Math.abs(secondReed.hole - expected.action.hole) !== 1) return null;
  return { ...bothHoles(expected.action.hole, secondReed.hole, expected.action.breath), others: [] };
}

interface Asked {
  readonly exercise: Exercise;
  readonly expected: ExpectedNote;
  readonly heard: Midi;
  readonly off: Cents;
  readonly reeds: readonly SoundingReed[];
}

const withoutWeight = ({ kind, words, action, holes, offCents }: Omit<Guess, "weight">) => ({
  kind,
  words,
  action,
  holes,
  offCents,
});

/** Another plain reed sounded: the other of the hole, or one of a hole nearby. */
function elsewhere({ expected, heard, reeds, off }: Asked): readonly Guess[] {
  const { hole, breath } = expected.action;
  return reeds.flatMap(({ action, midi }): readonly Guess[] => {
    const distance = Math.abs(centsBetween(heard, midi));
    if (action.technique !== "plain" || distance > SAME_REED_CENTS) return [];
    const away = Math.abs(action.hole - hole);
    const kind: DiagnosisKind = away === 0 ? "wrong breath" : "neighbour hole";
    const unlikely = howUnlikely(away, action.breath === breath);
    if (unlikely === null) return [];
    const words = `${actionInWords(action)} instead of ${actionInWords(expected.action)}`;
    return [
      {
        kind,
        words,
        action,
        holes: [action.hole],
        offCents: off,
        weight: unlikely + distance / SAME_REED_CENTS,
      },
    ];
  });
}

function howUnlikely(holesAway: number, sameBreath: boolean): number | null {
  if (holesAway === 0) return sameBreath ? null : UNLIKELY.wrongBreath;
  if (holesAway === 1) return sameBreath ? UNLIKELY.neighbourHole : UNLIKELY.neighbourOtherBreath;
  return holesAway === 2 && sameBreath ? UNLIKELY.twoHolesAway : null;
}

/** The right reed, bent otherwise than asked for. */
function bends(asked: Asked): readonly Guess[] {
  const { expected, heard, reeds, off } = asked;
  const { hole, breath, technique } = expected.action;
  const own = reeds.filter(({ action }) => action.hole === hole && action.breath === breath);
  const plain = own.find(({ action }) => action.technique === "plain");
  if (plain === undefined) return [];
  const fromPlain = centsBetween(heard, plain.midi);
  if (technique !== "plain" && Math.abs(fromPlain) <= UNBENT_CENTS) {
    const words = `plain ${actionInWords(plain.action)} instead of ${actionInWords(expected.action)}`;
    const weight = UNLIKELY.unbent + Math.abs(fromPlain) / SAME_REED_CENTS;
    return [{ kind: "unbent", words, action: plain.action, holes: [hole], offCents: off, weight }];
  }
  if (technique === "overblow" || technique === "overdraw")
    return Math.abs(off) <= 100 ? [{ ...shallowOrDeep(expected, off), weight: UNLIKELY.bend }] : [];
  // The whole way from the plain note down to the deepest bend belongs to the reed.
  const deepest = Math.min(...own.map(({ midi }) => midi));
  const onTheWay = fromPlain < -PULLED_CENTS && centsBetween(heard, deepest as Midi) > -SAME_REED_CENTS;
  const bendable = own.some(({ action }) => action.technique === "bend");
  if (!bendable || !onTheWay) return [];
  return [{ ...shallowOrDeep(expected, off), weight: UNLIKELY.bend }];
}

function shallowOrDeep({ action }: ExpectedNote, off: Cents): Omit<Guess, "weight"> {
  const by = `${Math.abs(off).toFixed(0)} cents`;
  const common = { holes: [action.hole], offCents: off, action: null };
  if (action.technique === "plain")
    return { ...common, kind: "bend too deep", words: `${actionInWords(action)} pulled down by ${by}` };
  if (action.technique === "bend")
    return off > 0
      ? { ...common, kind: "bend too shallow", words: `${actionInWords(action)}: ${by} too shallow` }
      : { ...common, kind: "bend too deep", words: `${actionInWords(action)}: ${by} too deep` };
  // An overblow is pushed up to its note.
  const kind = off < 0 ? "bend too shallow" : "bend too deep";
  return { ...common, kind, words: `${actionInWords(action)}: ${by} too ${off < 0 ? "low" : "high"}` };
}

/** The right note in another octave, wherever that lies. */
function octaves({ expected, off, heard, reeds }: Asked): readonly Guess[] {
  const count = Math.round(off / 1200);
  const distance = Math.abs(off - 1200 * count);
  if (count === 0 || distance > SAME_REED_CENTS) return [];
  const reed = reeds
    .filter(({ midi }) => Math.abs(centsBetween(heard, midi)) <= SAME_REED_CENTS)
    .sort((a, b) => Number(b.action.technique === "plain") - Number(a.action.technique === "plain"))[0];
  const where = Math.abs(count) === 1 ? "an octave" : `${Math.abs(count)} octaves`;
  const instead =
    reed === undefined ? "" : `, ${actionInWords(reed.action)} instead of ${actionInWords(expected.action)}`;
  return [
    {
      kind: "octave",
      words: `${where} too ${count > 0 ? "high" : "low"}${instead}`,
      action: reed?.action ?? null,
      holes: reed === undefined ? [] : [reed.action.hole],
      offCents: off,
      weight: UNLIKELY.octave + distance / SAME_REED_CENTS,
    },
  ];
}

/** The hole asked for and its neighbour sounded together, the neighbour the louder of the two. */
function twoHoles(
  { expected, reeds, heard }: Asked,
  second: SecondReed | null,
): Omit<Guess, "weight"> | null {
  if (second === null || !second.loud || second.hole === null) return null;
  const { hole, breath } = expected.action;
  const louder = reeds.find(
    ({ action, midi }) =>
      action.technique === "plain" &&
      action.breath === breath &&
      Math.abs(action.hole - hole) === 1 &&
      Math.abs(centsBetween(heard, midi)) <= SAME_REED_CENTS,
  );
  return second.hole === hole && louder !== undefined ? bothHoles(hole, louder.action.hole, breath) : null;
}

function bothHoles(one: number, other: number, breath: Breath): Omit<Guess, "weight"> {
  const holes = [Math.min(one, other), Math.max(one, other)];
  return {
    kind: "two holes at once",
    words: `${holes.join(" and ")} ${breath} sounded together`,
    action: null,
    holes,
    offCents: null,
  };
}

function unknown({ off }: Asked): Guess {
  return {
    kind: "unknown",
    words: "no likely slip on this harp gives this note",
    action: null,
    holes: [],
    offCents: off,
    weight: 0,
  };
}

/**
 * Explains a note too many between two expected ones: on the hole of the one before and the breath of the one after,
 * the breath was changed before the move.
 */
export function diagnoseExtra(
  exercise: Exercise,
  before: ExpectedNote | undefined,
  after: ExpectedNote | undefined,
  heard: Midi,
  secondReed: SecondReed | null,
): Diagnosis | null {
  const early = before !== undefined && after !== undefined && earlyChange(exercise, before, after, heard);
  if (early) return early;
  const nearest = before ?? after;
  if (nearest === undefined) return null;
  if (Math.abs(centsBetween(heard, targetMidi(exercise, nearest))) <= SAME_REED_CENTS) return null;
  return diagnose(exercise, nearest, heard, secondReed);
}

function earlyChange(
  exercise: Exercise,
  before: ExpectedNote,
  after: ExpectedNote,
  heard: Midi,
): Diagnosis | null {
  if (before.action.breath === after.action.breath) return null;
  const reed = soundingReeds(exercise).find(
    ({ action, midi }) =>
      action.technique === "plain" &&
      action.hole === before.action.hole &&
      action.breath === after.action.breath &&
      Math.abs(centsBetween(heard, midi)) <= SAME_REED_CENTS,
  );
  if (reed === undefined || sameAction(reed.action, after.action)) return null;
  return earlyBreathChange(before.action, reed.action);
}

/** The breath changed while the player was still on a note. */
export function earlyBreathChange(on: ReedAction, sounded: ReedAction): Diagnosis {
  return {
    kind: "early breath change",
    words: `breath changed too early on ${actionInWords(on)}: ${actionInWords(sounded)} sounded`,
    action: sounded,
    holes: [on.hole],
    offCents: null,
    others: [],
  };
}
