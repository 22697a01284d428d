import type { Attempt, Fault } from "./attempt.ts";

/** The one thing to take away from an attempt: no praise that was not measured, no blame. */
export function verdictSentence(attempt: Attempt): string {
  const { notes } = attempt.summary;
  const judged = notes.expected - notes.notMeasured;
  if (judged === 0) return "Nothing could be measured in this take.";
  if (notes.hit === 0 && notes.wrong === 0) return "None of the notes was heard.";
  const bias = biasInWords(attempt);
  if (attempt.faults.length > 0) return `${capital(hits(attempt))}${bias}. ${faultsInWords(attempt.faults)}`;
  if (bias !== "") return `${capital(hits(attempt))}${bias}.`;
  return notes.notMeasured > 0
    ? `Clean as far as it could be heard: ${hits(attempt)}.`
    : `Clean: ${hits(attempt)}.`;
}

/** A steady lean off the pitch or off the beat, told once: it is not a fault of single notes. */
function biasInWords({ summary, tolerances }: Attempt): string {
  const cents = summary.intonation.biasCents ?? 0;
  const ms = summary.timing.biasMs ?? 0;
  const parts = [
    Math.abs(cents) > tolerances.inTuneCents
      ? `${Math.abs(cents).toFixed(0)} cents ${cents > 0 ? "sharp" : "flat"} on the whole`
      : null,
    Math.abs(ms) > tolerances.onBeatMs
      ? `${Math.abs(ms).toFixed(0)} ms ${ms > 0 ? "late" : "early"} on the whole`
      : null,
  ].filter((part) => part !== null);
  return parts.length === 0 ? "" : `, ${parts.join(" and ")}`;
}

function hits({ summary: { notes } }: Attempt): string {
  const judged = notes.expected - notes.notMeasured;
  return notes.hit === judged ? `all ${judged} notes right` : `${notes.hit} of ${judged} notes right`;
}

/** At most two mistakes by name; more would not be remembered. */
function faultsInWords(faults: readonly Fault[]): string {
  const named = faults.slice(0, 2).map((fault) => capital(fault.words));
  const more = faults.length - named.length;
  return `${named.join(". ")}${more > 0 ? `, and ${more} more` : ""}.`;
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
