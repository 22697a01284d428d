import type { Random } from "../../core/exercise/seeded-random.ts";
import { type Cell, cells, type Writing } from "./made-abc-cells.ts";
import { chance, oneOf, wholeFrom } from "./made-abc-chance.ts";

/** A tune made for comparing readers, and what it is made of. */
export interface MadeAbc {
  readonly abc: string;
  /** Why another reader differs, where the tune was made to differ. */
  readonly special: Special | null;
}

/** What abc2midi is known to play otherwise: see `abc-differences.ts`. */
export type Special =
  | "part endings"
  | "multiple repeat"
  | "tie into repeat"
  | "tie into endings"
  | "da capo"
  | "hornpipe"
  | "five in three four"
  | "section not closed"
  | "double bar"
  | "invisible bar line"
  | "five after a change of metre"
  | "staccato"
  | "roll";

const METRES = [
  { text: "4/4", quavers: 8, compound: false },
  { text: "C", quavers: 8, compound: false },
  { text: "C|", quavers: 8, compound: false },
  { text: "2/4", quavers: 4, compound: false },
  { text: "3/4", quavers: 6, compound: false },
  { text: "6/8", quavers: 6, compound: true },
  { text: "9/8", quavers: 9, compound: true },
  { text: "12/8", quavers: 12, compound: true },
  { text: "5/4", quavers: 10, compound: false },
] as const;
export type MadeMetre = (typeof METRES)[number];

const KEYS = [
  ..."C G D A E F Bb Eb Am Em Bm Dm F#m C#m Gm".split(" "),
  ..."Ador Edor Ddor AMix DMix GMix EPhr A_minor D_dorian FLyd BLoc none Hp HP".split(" "),
  ..."D_=c Am_^g D_exp_^f_^c_^g G_Major A_Mixolydian_^g".split(" "),
].map((key) => key.replaceAll("_", " "));

/** A tune of `number`, from the random numbers given; of one special kind, or of all that should agree. */
export function madeAbc(random: Random, number: number, special: Special | null): MadeAbc {
  const metre =
    special === "five in three four" ? METRES[4] : special === "hornpipe" ? METRES[0] : oneOf(random, METRES);
  const unit = special === "hornpipe" ? 1 / 8 : oneOf(random, [null, 1 / 8, 1 / 16, 1 / 4]);
  const usual = metre.text === "2/4" ? 1 / 16 : 1 / 8;
  const writing: Writing = { random, metre, unit: unit ?? usual, tiedTo: null, fives: true };
  if (metre.text === "3/4" && special !== "five in three four") writing.fives = false;
  const header = [
    `X:${number}`,
    `T:Made for comparing, number ${number}`,
    ...(chance(random, 0.2) ? ["% a remark", "C:nobody"] : []),
    `M:${metre.text}`,
    ...(unit === null ? [] : [`L:1/${1 / unit}`]),
    ...(special === "hornpipe" ? ["R:hornpipe"] : []),
    "Q:1/4=120",
  ];
  const { order, body } = special === null ? plainBody(writing) : specialBody(writing, special);
  const key =
    oneOf(random, KEYS) + oneOf(random, ["", "", "", "", " octave=-1", " transpose=2", " clef=treble-8"]);
  const lines = [...header, ...(order === null ? [] : [`P:${order}`]), `K:${key}`, ...body];
  return { abc: `${lines.join("\n")}\n`, special };
}

interface Body {
  readonly order: string | null;
  readonly body: readonly string[];
}

/** Forms both programs play alike. */
function plainBody(writing: Writing): Body {
  const { random } = writing;
  const form = wholeFrom(random, 0, 7);
  const a = () => bars(writing, wholeFrom(random, 1, 3));
  if (form === 0) return { order: null, body: [`|:${a()}:|`, `|:${a()}:|`] };
  if (form === 1) return { order: null, body: [`${a()}:|`, `${a()}:|`, `${a()}|]`] };
  if (form === 2) return { order: null, body: [`|:${a()}|1 ${a()}:|2 ${a()}||`, `${a()}|]`] };
  if (form === 3) return { order: null, body: [`|:${a()}|[1,3 ${a()}:|[2,4 ${a()}:|`, `${a()}|]`] };
  if (form === 4) {
    const order = oneOf(random, ["AB", "AABB", "ABA", "(AB)2", "A2.B", "((AB)2A)2"]);
    return { order, body: ["P:A", `${a()}|`, "P:B", `${a()}|]`] };
  }
  if (form === 5) {
    const voices = ["V:1", `${a()}|`, "V:2", `${a()}|`, "V:1", `${a()}|]`, "V:2", `${a()}|]`];
    return {
      order: null,
      body: chance(random, 0.5) ? voices : [`${a()}[|]`, "Z2|", `${a()}&${a()}|${a()}|]`],
    };
  }
  if (form === 6) return { order: null, body: [`|:${a()}::${a()}:|`, `[K:D]${a()}|[L:1/8]`] };
  const metre = oneOf(random, METRES);
  const first = `|:${a()}:|`;
  writing.metre = metre;
  writing.fives = false;
  return { order: null, body: [first, `M:${metre.text}`, `${a()}|`, "w:words to it", `${a()}|]`] };
}

function specialBody(writing: Writing, special: Special): Body {
  const a = () => bars(writing, 1);
  const whole = (name: string) => `${name}${quavers(writing, writing.metre.quavers)}`;
  switch (special) {
    case "part endings":
      return { order: "A2B", body: ["P:A", `${a()}|1 ${a()}:|2 ${a()}|]`, "P:B", `${a()}|]`] };
    case "multiple repeat":
      return { order: null, body: [`|::${a()}::|`, `${a()}|]`] };
    case "tie into repeat":
      return { order: null, body: [`|:${whole("c")}|${a()}|${whole("c")}-:|${whole("c")}|]`] };
    case "tie into endings":
      return { order: null, body: [`|:${a()}|${whole("c")}-|1 ${whole("c")}:|2 ${whole("c")}|]`] };
    case "da capo":
      return { order: null, body: [`${a()}|${a()} !fine!|${a()}|${a()} !D.C.!|]`] };
    case "five after a change of metre": {
      // abc2midi counts 3/4 among the compound metres.
      const { compound, text } = writing.metre;
      const second = compound || text === "3/4" ? METRES[0] : METRES[5];
      return { order: null, body: [`${a()}|`, `M:${second.text}`, "(5cdefg(7cdefgab|]"] };
    }
    case "staccato":
      return { order: null, body: [`.${whole("c")}|.${whole("d")}|${a()}|]`] };
    case "roll":
      return { order: null, body: [`~${whole("c")}|!trill!${whole("d")}|${a()}|]`] };
    case "invisible bar line":
      return { order: null, body: [`|:${a()}|1 ${a()}[|]${a()}:|2 ${a()}|]`] };
    case "double bar":
      return { order: null, body: [`${a()}||${a()}:|`, `${a()}|]`] };
    case "section not closed":
      return { order: null, body: [`|:${a()}|`, `|:${a()}:|`] };
    case "hornpipe":
      return { order: null, body: [["c", "d", "e", "f"].map((name) => name + quavers(writing, 1)).join("")] };
    case "five in three four":
      return { order: null, body: [`(5cdefg(7cdefgab(9cdefgabcd|${a()}|]`] };
  }
}

const quavers = ({ unit }: Writing, length: number): string => {
  const units = length / 8 / unit;
  return units === 1 ? "" : units < 1 ? `/${1 / units}` : String(units);
};

/** So many bars; no tie leads on from the last. */
function bars(writing: Writing, count: number): string {
  const made = Array.from({ length: count }, () => bar(writing));
  writing.tiedTo = null;
  return made
    .join(oneOf(writing.random, ["|", "|", " | ", "|\\\n", "|\n", "|[I:linebreak $]"]))
    .replace(/-$/, "");
}

function bar(writing: Writing): string {
  const out: string[] = [];
  let left: number = writing.metre.quavers;
  while (left > 0) {
    const fitting: readonly Cell[] = cells(writing).filter(({ quavers: length }) => length <= left);
    const cell = oneOf(writing.random, fitting);
    out.push(cell.write(writing));
    left -= cell.quavers;
  }
  return out.join(oneOf(writing.random, ["", " ", "`", " y "]));
}
