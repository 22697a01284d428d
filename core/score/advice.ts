import type { Exercise } from "../exercise/exercise.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { tab } from "../instrument/tab.ts";
import { drillFor } from "./advice-drills.ts";
import type { Advice, ExtraNote, Summary } from "./attempt.ts";
import type { Mark, Tolerances } from "./mark.ts";
import { mean } from "./statistics.ts";

const MOST_ADVICE = 3;

/** One note a cause has cost. */
interface Loss {
  readonly cause: Advice["cause"];
  readonly words: string;
  readonly asked: ReedAction | null;
  readonly sounded: ReedAction | null;
}

/** What a note with this cause costs against a wrong one: a note out of tune is still the note. */
const COSTS: Partial<Readonly<Record<Advice["cause"], number>>> = {
  "two holes at once": 0.7,
  "bend too shallow": 0.7,
  "bend too deep": 0.7,
  "too many": 0.7,
  sharp: 0.5,
  flat: 0.5,
  early: 0.5,
  late: 0.5,
  uneven: 0.4,
  swing: 0.3,
};
const costOf = (cause: Advice["cause"]) => COSTS[cause] ?? 1;

/** The two or three causes that cost most, each with its number and a drill that addresses it. */
export function advise(
  exercise: Exercise,
  marks: readonly Mark[],
  extras: readonly ExtraNote[],
  summary: Summary,
  tolerances: Tolerances,
): readonly Advice[] {
  const of = summary.notes.expected - summary.notes.notMeasured;
  const losses = [
    ...marks.flatMap((mark) => lossesOf(mark, marks[mark.index + 1], tolerances)),
    ...extras.map(extraLoss),
    ...unevenLosses(marks, summary),
    ...swingLosses(summary),
  ];
  const byCause = new Map<Advice["cause"], Loss[]>();
  for (const loss of losses) byCause.set(loss.cause, [...(byCause.get(loss.cause) ?? []), loss]);
  return [...byCause.entries()]
    .sort(([a, some], [b, others]) => costOf(b) * others.length - costOf(a) * some.length)
    .slice(0, MOST_ADVICE)
    .map(([cause, some]) => adviceOf(exercise, cause, some, of));
}

function adviceOf(exercise: Exercise, cause: Advice["cause"], losses: readonly Loss[], of: number): Advice {
  const commonest = mostCommon(losses);
  const notes = losses.length;
  const share = commonest.count === notes ? commonest.words : `${cause}, most often ${commonest.words}`;
  const words =
    cause === "too many"
      ? `${notes} too many beside the ${of} notes${commonest.words === "" ? "" : `, most often ${commonest.words}`}`
      : `${notes} of ${of} notes: ${share}`;
  return {
    cause,
    words,
    notes,
    of,
    ...drillFor(exercise, { cause, asked: commonest.asked, sounded: commonest.sounded }),
  };
}

function mostCommon(losses: readonly Loss[]): Loss & { readonly count: number } {
  const counts = new Map<string, number>();
  for (const { words } of losses) counts.set(words, (counts.get(words) ?? 0) + 1);
  const count = (loss: Loss) => counts.get(loss.words) ?? 0;
  const best = losses.reduce((most, loss) => (count(loss) > count(most) ? loss : most));
  return { ...best, count: count(best) };
}

function lossesOf(mark: Mark, next: Mark | undefined, tolerances: Tolerances): readonly Loss[] {
  const losses: Loss[] = [];
  const add = (cause: Advice["cause"], words: string, sounded: ReedAction | null = null) =>
    losses.push({ cause, words, asked: mark.action, sounded });
  if (mark.verdict === "missed") add("missed", "missed");
  const { diagnosis } = mark;
  if (diagnosis?.kind === "early breath change")
    add(diagnosis.kind, diagnosis.words, next?.action ?? diagnosis.action);
  else if (diagnosis !== null) add(diagnosis.kind, wordsOf(mark), diagnosis.action);
  const bent = diagnosis?.kind === "bend too shallow" || diagnosis?.kind === "bend too deep";
  if (!bent && (mark.intonation === "sharp" || mark.intonation === "flat"))
    add(mark.intonation, `more than ${tolerances.offCents} cents ${mark.intonation}`);
  if (mark.verdict === "hit" && (mark.timing === "early" || mark.timing === "late"))
    add(mark.timing, `more than ${tolerances.onBeatMs} ms ${mark.timing}`);
  return losses;
}

/** Without the cents, which differ from note to note. */
function wordsOf({ diagnosis, tab: asked }: Mark): string {
  if (diagnosis === null) return "";
  if (diagnosis.kind === "unknown") return "wrong, and no likely slip";
  if (diagnosis.kind === "bend too shallow" || diagnosis.kind === "bend too deep")
    return `${diagnosis.kind} on ${asked}`;
  if (diagnosis.kind === "octave" || diagnosis.action === null) return diagnosis.words;
  return `${tab(diagnosis.action)} instead of ${asked} (${diagnosis.kind})`;
}

function extraLoss({ diagnosis }: ExtraNote): Loss {
  const early = diagnosis?.kind === "early breath change";
  return {
    cause: "too many",
    words: early ? "a breath changed too early" : "",
    asked: null,
    sounded: null,
  };
}

/** Shares of a note's length by which it may differ from even before that is told. */
const UNEVEN_SHARE = 0.25;
const UNEVEN_MS = 30;

function unevenLosses(marks: readonly Mark[], { timing }: Summary): readonly Loss[] {
  if ((timing.evennessMs ?? 0) < UNEVEN_MS) return [];
  const shares = marks.flatMap((mark) => (mark.lengthShare === null ? [] : [mark.lengthShare]));
  const middle = mean(shares) ?? 1;
  return marks
    .filter((mark) => mark.lengthShare !== null && Math.abs(mark.lengthShare - middle) > UNEVEN_SHARE)
    .map(() => ({ cause: "uneven", words: "cut short or held over", asked: null, sounded: null }));
}

function swingLosses({ timing: { swing } }: Summary): readonly Loss[] {
  if (swing === null || swing.played === null || swing.judged === null || swing.judged === "as asked")
    return [];
  const words = `swung ${swing.played.toFixed(1)}:1 where ${swing.asked.toFixed(1)}:1 was asked for`;
  return Array.from({ length: swing.pairs }, () => ({ cause: "swing", words, asked: null, sounded: null }));
}
