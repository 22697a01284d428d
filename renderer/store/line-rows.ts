import type { HistoryLine } from "./history-entry.ts";
import type { LineRow, SubjectOfLine } from "./rows.ts";

export function rowOfLine({ starred, demo, ...line }: HistoryLine, subject: number): LineRow {
  const { atEpochMs, takeBytes } = line;
  return {
    ...line,
    subject,
    ...(starred ? { starred: 1 } : {}),
    ...(demo ? { demo: 1 } : {}),
    ...(takeBytes === null || starred ? {} : { dropAt: atEpochMs }),
  };
}

export function lineOfRow({ subject: _, dropAt: __, starred, demo, ...line }: LineRow): HistoryLine {
  return { ...line, starred: starred === 1, demo: demo === 1 };
}

export function subjectOf(line: HistoryLine): SubjectOfLine {
  const { title, harpName, position, techniques, tuneId, demo } = line;
  return { title, harpName, position, techniques, demo, ...(tuneId === undefined ? {} : { tuneId }) };
}

/** One text for all of a subject. */
export const subjectKey = ({ title, harpName, position, techniques, tuneId, demo }: SubjectOfLine): string =>
  JSON.stringify([title, harpName, position, techniques, tuneId ?? null, demo]);
