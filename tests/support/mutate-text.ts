import type { Random } from "../../core/exercise/seeded-random.ts";

/** Pieces that mean something to a reader of ABC, and some that mean nothing anywhere. */
const ABC_PIECES = [
  ..."ABCcdefgzxyZX|:[](){}<>-~.,'^_=\"!+&%\\/0123456789$*;`#@\t\n\r\0é\u2028𝄋",
  "|:",
  ":|",
  "::",
  "[1",
  "[2",
  "[1-99999999",
  "|1,3,5-9",
  "(3",
  "(9:2:99",
  "(99999",
  "{g",
  "[CEG",
  "Z99999",
  "A99999999",
  "A/999999999",
  "////////",
  ">>>>>>",
  "\nK:",
  "\nK:F#Phr =f ^^g exp",
  "\nX:",
  "\nX:2\n",
  "\nM:99999/7",
  "\nM:",
  "\nL:0/0",
  "\nL:1/3",
  "\nQ:1/0=0",
  "\nQ:",
  "\nP:((((((((((((((((((((A",
  "\nP:(A99)99",
  "\nP:A\n",
  "\nV:2\n",
  "[V:1]",
  "[K:D exp",
  "[M:6/8]",
  "\nU:T=",
  "\n\n",
  "!D.C.!",
  "!D.S.!",
  "!segno!",
  "!coda!",
  "!fine!",
  '"D.C. al Coda"',
  "%%propagate-accidentals octave\n",
  "%%begintext\n",
  "<span>&lt;",
] as const;

/** How long one thing may become when it is repeated: long enough for anything that grows with its square to show. */
const LONGEST_RUN = 20_000;

/**
 * A text with 1 to 8 changes: something cut out, doubled, moved, put in, run on for long, or broken off; sometimes of two texts.
 *
 * @param texts what to start from; at least one
 */
export function mutatedText(random: Random, texts: readonly string[]): string {
  let text = oneOf(random, texts);
  const changes = 1 + Math.floor(random() * 8);
  for (let change = 0; change < changes; change++) text = oneOf(random, CHANGES)(text, random, texts);
  return text;
}

type Change = (text: string, random: Random, texts: readonly string[]) => string;

const CHANGES: readonly Change[] = [
  (text, random) => {
    const [from, to] = span(text, random);
    return text.slice(0, from) + text.slice(to);
  },
  (text, random) => {
    const [from, to] = span(text, random);
    return text.slice(0, to) + text.slice(from);
  },
  (text, random) => {
    const [from, to] = span(text, random);
    const at = Math.floor(random() * text.length);
    return text.slice(0, at) + text.slice(from, to) + text.slice(at);
  },
  (text, random) => put(text, random, oneOf(random, ABC_PIECES)),
  (text, random) => put(text, random, oneOf(random, ABC_PIECES)),
  (text, random) => {
    const at = Math.floor(random() * text.length);
    return text.slice(0, at) + oneOf(random, ABC_PIECES) + text.slice(at + 1);
  },
  (text, random) => {
    // Few run long: most files go wrong in one place.
    const times = random() < 0.2 ? Math.floor(random() * LONGEST_RUN) : Math.floor(random() * 30);
    return put(text, random, oneOf(random, ABC_PIECES).repeat(times));
  },
  (text, random) => put(text, random, String.fromCharCode(Math.floor(random() * 0xffff))),
  (text, random) => text.slice(0, Math.floor(random() * text.length)),
  (text, random, texts) => {
    const other = oneOf(random, texts);
    return (
      text.slice(0, Math.floor(random() * text.length)) + other.slice(Math.floor(random() * other.length))
    );
  },
];

/** Two places in a text, mostly near each other. */
function span(text: string, random: Random): readonly [number, number] {
  const from = Math.floor(random() * text.length);
  const length = random() < 0.8 ? Math.floor(random() * 12) : Math.floor(random() * text.length);
  return [from, Math.min(text.length, from + length)];
}

function put(text: string, random: Random, piece: string): string {
  const at = Math.floor(random() * (text.length + 1));
  return text.slice(0, at) + piece + text.slice(at);
}

function oneOf<T>(random: Random, choices: readonly T[]): T {
  const chosen = choices[Math.floor(random() * choices.length)];
  if (chosen === undefined) throw new RangeError("nothing to choose from");
  return chosen;
}
