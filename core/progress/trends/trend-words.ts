import { tempoInWords } from "../../tune/tempo.ts";
import { bpm } from "../../units.ts";
import { bandInWords } from "../counts/likeness.ts";
import type { GroupDay } from "../counts/roll-ups.ts";
import { LEAST_SESSIONS } from "./claims-together.ts";
import type { Change, LineKind, MeasureTrend, TrendLine } from "./trend.ts";

type Told = Pick<MeasureTrend, "measure" | "unit" | "noteValue" | "better">;
type Line = Omit<TrendLine, "words">;

/** Which attempts of a day a line has. */
export const LINE_WORDS: Readonly<Record<LineKind, string>> = {
  first: "first attempt of each day",
  day: "all attempts of each day",
  best: "best of each day",
};

/**
 * One sentence or two: "Intonation spread, first attempt of each day: 12 to 9 cents over 20 sessions (1280 notes), 2 to 4 cents
 * less (95 in 100)."
 *
 * @param judged measures whose intervals hold together; told where there are several
 */
export function lineInWords(line: Line, told: Told, judged: number): string {
  const of = `${capital(told.measure)}, ${told.measure === "tempo reached" ? "fastest of each day" : LINE_WORDS[line.kind]}`;
  const sessions = `${line.sessions} ${line.sessions === 1 ? "session" : "sessions"}`;
  const { change } = line;
  if (change === null)
    return `${of}: too early to tell, ${sessions} that can be compared${leastWords(line)}.`;
  const notes = told.measure === "tempo reached" ? "" : ` (${line.notes} notes)`;
  const digits = digitsFor(change, told);
  const value = valueWords(change, told, digits);
  const sure = judged > 1 ? `95 in 100 for all ${judged} measures together` : "95 in 100";
  const moved = `${value} over ${sessions}${notes}, ${changeWords(change, told, digits)} (${sure})`;
  return `${of}: ${moved}${afterwords(line, told)}`;
}

const leastWords = ({ sessions }: Line) =>
  sessions < LEAST_SESSIONS ? `, ${LEAST_SESSIONS} are needed` : "";

function afterwords({ verdict, kind, change }: Line, { measure }: Told): string {
  if (kind === "best") return ". Not judged: more attempts in a day make a better best.";
  const clear = change !== null && (change.low > 0 || change.high < 0);
  if (verdict === "no clear change" && clear)
    return ". Not told as a change, as all attempts of each day show none.";
  if (verdict === "no clear change") return ": no clear change.";
  if (verdict !== "changed") return ".";
  return measure === "timing bias"
    ? ". Neither better nor worse: a delay that changed does the same."
    : ". Neither better nor worse: another A or a warmer harp does the same.";
}

const capital = (text: string) => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;

/** Whole numbers, or a tenth where whole ones would hide the interval. */
function digitsFor({ low, high }: Change, { unit }: Told): 0 | 1 {
  const scale = unit === "share" ? 100 : 1;
  const least = Math.min(Math.abs(low), Math.abs(high), Math.abs(high - low)) * scale;
  return least < 1 ? 1 : 0;
}

/** "12 to 9 cents", "6 cents flat to 1 cent sharp". */
function valueWords({ from, to }: Change, { measure, unit, noteValue }: Told, digits: 0 | 1): string {
  if (measure === "intonation bias")
    return `${sided(from, digits, "cents", "sharp", "flat")} to ${sided(to, digits, "cents", "sharp", "flat")}`;
  if (measure === "timing bias")
    return `${sided(from, digits, "ms", "late", "early")} to ${sided(to, digits, "ms", "late", "early")}`;
  if (noteValue !== null) {
    const start = tempoInWords({ noteValue, bpm: bpm(Number(from.toFixed(digits))) });
    return `${start} to ${to.toFixed(digits)}`;
  }
  const scale = unit === "share" ? 100 : 1;
  return `${(scale * from).toFixed(digits)} to ${(scale * to).toFixed(digits)} ${unitWords(unit)}`;
}

const unitWords = (unit: Told["unit"]) =>
  unit === "share" ? "in 100" : unit === "bpm" ? "beats a minute" : unit;

function sided(value: number, digits: 0 | 1, unit: string, above: string, below: string): string {
  const size = Math.abs(value).toFixed(digits);
  return Number(size) === 0 ? `0 ${unit}` : `${size} ${unit} ${value > 0 ? above : below}`;
}

/** "2 to 4 cents less", "from 1 cents less to 3 cents more". */
function changeWords({ low, high }: Change, { measure, unit }: Told, digits: 0 | 1): string {
  const [more, less] = directions(measure);
  const size = (value: number) => (Math.abs(value) * (unit === "share" ? 100 : 1)).toFixed(digits);
  const unitText = unitWords(unit);
  if (low > 0) return `${size(low)} to ${size(high)} ${unitText} ${more}`;
  if (high < 0) return `${size(high)} to ${size(low)} ${unitText} ${less}`;
  return `between ${size(low)} ${unitText} ${less} and ${size(high)} ${more}`;
}

function directions(measure: Told["measure"]): readonly [string, string] {
  if (measure === "intonation bias") return ["sharper", "flatter"];
  if (measure === "timing bias") return ["later", "earlier"];
  if (measure === "tempo reached") return ["faster", "slower"];
  return ["more", "less"];
}

/** What was compared: "The same exercise on the G harp, crotchet = 86 to 95: G major scale, one octave, up." */
export function comparedInWords(days: readonly GroupDay[]): string {
  const groups = new Set(days.map(({ group }) => group));
  const [only] = [...days].sort((one, other) => (one.day < other.day ? 1 : -1));
  if (only === undefined) return "Nothing was practised.";
  if (groups.size > 1) return exercisesInWords(groups.size);
  const { what, like } = only;
  return `The same exercise on the ${what.harp}, ${bandInWords(like.tempo)}: ${what.title}.`;
}

/** What trends over several exercises compare, or over one whose name is not at hand. */
export const exercisesInWords = (exercises: number): string =>
  exercises === 1
    ? "One exercise on the same harp, in the same way, tempo and delay."
    : `${exercises} exercises, each compared only with itself on the same harp, in the same way, tempo and delay.`;
