import { isObject, shown } from "../reading/json-values.ts";

/** One number of the cost of a breath path, as a player sees and changes it. */
export interface Weight {
  /** What is counted, in a few words. */
  readonly name: string;
  readonly value: number;
  /** An effort of 1 is a breath change with a quarter of a second from onset to onset. */
  readonly unit: string;
  /** Why it is there, in one sentence. */
  readonly reason: string;
  readonly source: string;
}

/** No measurement of what a move costs a player was found: every value is a starting point to change. */
const PRACTICE = "common practice";

const weight = (name: string, value: number, unit: string, reason: string, source = PRACTICE): Weight => ({
  name,
  value,
  unit,
  reason,
  source,
});

/** Every weight with its first value. */
export const WEIGHTS = {
  breathChange: weight(
    "breath change",
    1,
    "effort a change",
    "Turning the breath takes longer than sliding on with it, and at speed it is what a note is late by.",
  ),
  neighbourHole: weight(
    "step to the next hole",
    0.3,
    "effort a step",
    "The next hole is found by sliding; it costs little.",
  ),
  furtherHole: weight(
    "each hole further than the next",
    0.5,
    "effort a hole",
    "A jump over holes is aimed, and the further it goes the easier it misses.",
  ),
  jumpWithChange: weight(
    "each hole jumped over while the breath turns",
    0.5,
    "effort a hole",
    "A jump and a turn of breath must fall together, or a wrong note sounds between.",
  ),
  sameHoleFlip: weight(
    "breath turned within one hole",
    0.2,
    "effort a turn",
    "Nothing but the breath separates the two notes, so quick turns in one hole run together.",
  ),
  bend: weight("bend by one semitone", 1.5, "effort a note", "A bend has to be found and held by ear."),
  bendFurther: weight(
    "each further semitone bent",
    0.75,
    "effort a semitone",
    "Deeper bends take longer to settle and are harder to hit in tune.",
  ),
  overblow: weight(
    "overblow",
    4,
    "effort a note",
    "An overblow may fail to sound and often needs reeds set for it.",
  ),
  overdraw: weight("overdraw", 5, "effort a note", "An overdraw is as uncertain, on smaller reeds."),
  toneChange: weight(
    "change between plain and bent",
    0.5,
    "effort a change",
    "A bent note among plain ones sounds unlike them; a plain one among bent ones as well.",
  ),
  comfortableSeconds: weight(
    "time a move is easy in",
    0.25,
    "seconds from onset to onset",
    "Efforts grow as the time gets shorter: at half this time they count twice.",
  ),
  leastHurry: weight(
    "least a move counts for",
    0.25,
    "times",
    "However slow the music, a move is still a move.",
  ),
  mostHurry: weight(
    "most a move counts for",
    4,
    "times",
    "Below a sixteenth of a second nothing gets harder that matters.",
  ),
  restSeconds: weight(
    "shortest rest",
    0.2,
    "seconds",
    "Across a rest this long tones are not compared, and a small breath fits.",
  ),
  airSeconds: weight(
    "air either way that is comfortable",
    5,
    "seconds of playing",
    "So many seconds of drawing more than blowing, or the reverse, go by unnoticed.",
  ),
  breathRate: weight(
    "air moved in a rest",
    4,
    "seconds of playing a second",
    "Without the reeds in the way air moves several times as fast.",
  ),
  airExcess: weight(
    "air beyond the comfortable",
    1,
    "effort a second beyond, a second long",
    "Used only where a path is asked to even out the breath.",
  ),
} as const satisfies Readonly<Record<string, Weight>>;

export type WeightName = keyof typeof WEIGHTS;
export const WEIGHT_NAMES = Object.keys(WEIGHTS) as readonly WeightName[];

/** The value of every weight. */
export type Weights = Readonly<Record<WeightName, number>>;

export const FIRST_WEIGHTS: Weights = Object.fromEntries(
  WEIGHT_NAMES.map((name) => [name, WEIGHTS[name].value]),
) as Weights;

export const LARGEST_WEIGHT = 100;
/** Times are divided by, so they may not be nought. */
const ABOVE_NOUGHT: readonly WeightName[] = ["comfortableSeconds", "leastHurry", "mostHurry"];
const SMALLEST_TIME = 0.01;

export type ReadWeights =
  | { readonly kind: "weights"; readonly weights: Weights }
  | { readonly kind: "unreadable"; readonly reason: string };

/** Reads an object of weights by name; what is left out has its first value. The reason names the weight and the bound. */
export function readWeights(value: unknown): ReadWeights {
  const unreadable = (reason: string): ReadWeights => ({ kind: "unreadable", reason });
  if (!isObject(value))
    return unreadable(`weights must be an object of numbers by name, not ${shown(value)}`);
  const weights: Record<WeightName, number> = { ...FIRST_WEIGHTS };
  for (const [name, given] of Object.entries(value)) {
    if (!isWeightName(name))
      return unreadable(`there is no weight ${shown(name)}; there are ${WEIGHT_NAMES.join(", ")}`);
    const least = ABOVE_NOUGHT.includes(name) ? SMALLEST_TIME : 0;
    if (typeof given !== "number" || !(given >= least && given <= LARGEST_WEIGHT))
      return unreadable(
        `weight ${name} must be a number from ${least} to ${LARGEST_WEIGHT}, not ${shown(given)}`,
      );
    weights[name] = given;
  }
  if (weights.leastHurry > weights.mostHurry)
    return unreadable(`weight leastHurry (${weights.leastHurry}) is above mostHurry (${weights.mostHurry})`);
  return { kind: "weights", weights };
}

const isWeightName = (name: string): name is WeightName => Object.hasOwn(WEIGHTS, name);
