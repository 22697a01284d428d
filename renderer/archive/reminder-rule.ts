import type { ArchiveNote, Practised } from "../store/archive-note.ts";

/** So much practice is worth a file of its own. */
export const ATTEMPTS_AT_RISK = 20;
export const DAYS_AT_RISK = 7;
/** For which the player may be left alone. */
export const QUIET_MS = 7 * 86_400_000;

/** What was practised since the last archive, where that is enough to be told; else null. */
export function atRisk(practised: Practised, note: ArchiveNote, nowEpochMs: number): Practised | null {
  // A clock that was set back leaves nobody quiet for longer than was asked.
  const isQuiet = nowEpochMs < note.quietUntilEpochMs && note.quietUntilEpochMs - nowEpochMs <= QUIET_MS;
  const since = {
    attempts: Math.max(0, practised.attempts - note.saved.attempts),
    days: Math.max(0, practised.days - note.saved.days),
  };
  const isEnough = since.attempts >= ATTEMPTS_AT_RISK || (since.days >= DAYS_AT_RISK && since.attempts > 0);
  return isEnough && !isQuiet ? since : null;
}
