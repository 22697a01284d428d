import { actionInWords } from "../../../core/instrument/tab.ts";
import { READINGS_WANTED } from "../../../core/workshop/measure/agreement.ts";
import { centsInWords, UNFIT_WORDS } from "../../../core/workshop/measure/measure-words.ts";
import type { MeasuredReed } from "../../../core/workshop/measure/measurement.ts";
import type { WalkSays } from "../../../core/workshop/measure/walk.ts";
import type { WalkState } from "./walk-session.ts";

/** What to do now, and what became of the note before. One sentence or two. */
export function walkInWords({ walk, activity }: WalkState, reed: MeasuredReed | null): string {
  if (activity.kind === "paused" && activity.trouble !== null) return activity.trouble;
  if (activity.kind === "opening") return "Opening the microphone …";
  if (reed === null) return "Every reed is done.";
  if (activity.kind === "paused") return "Paused. What was measured is kept.";
  return walk.says === null ? ask(reed) : `${said(walk.says, reed)} ${ask(reed)}`.trim();
}

function ask({ readings }: MeasuredReed): string {
  const left = Math.max(1, READINGS_WANTED - readings.length);
  return readings.length === 0
    ? "Three short steady notes, about a second each, a breath of silence between."
    : `${left} more.`;
}

function said(says: WalkSays, reed: MeasuredReed): string {
  switch (says.kind) {
    case "counted":
      return `${centsInWords(says.offCents)}.`;
    case "moved on":
      return `${centsInWords(says.offCents)}. Next.`;
    case "apart":
      return `${centsInWords(says.offCents)}: apart from the others, so once more.`;
    case "unfit":
      return `Not counted. ${UNFIT_WORDS[says.why]}`;
    case "elsewhere":
      return elsewhere(says, reed);
  }
}

function elsewhere({ offCents, like }: Extract<WalkSays, { kind: "elsewhere" }>, reed: MeasuredReed): string {
  const [first] = like;
  const what = first === undefined ? `${centsInWords(offCents, 0)} from this reed` : actionInWords(first);
  return `Not counted: heard ${what}, not ${reed.hole} ${reed.breath}.`;
}
