import { cleanup, render, screen } from "@testing-library/react";
import { afterEach, describe, expect, test } from "vitest";
import { NO_RECORDS } from "../../../core/archive/archive-format.ts";
import { ArchivePart } from "../../../renderer/archive/archive-part.tsx";
import type { Archives } from "../../../renderer/archive/use-archives.ts";

afterEach(cleanup);

/** The part with a file that was looked through. @param attempts of it that are not here yet */
function lookedThrough(attempts: number): string {
  const counts = { ...NO_RECORDS, attempt: 7 };
  const summary = { counts, starred: 0, demo: 0, days: null };
  const fresh = { ...NO_RECORDS, attempt: attempts };
  const look = { kind: "archive", summary, fresh, isUnused: false, unreadable: 0, faults: [] } as const;
  const nothing = () => undefined;
  const archives: Archives = {
    state: { kind: "looked", at: { name: "evening.gz", file: new Blob([]), look } },
    leave: nothing,
    stop: nothing,
    save: nothing,
    look: nothing,
    bringIn: nothing,
    deleteAll: nothing,
  };
  render(<ArchivePart archives={archives} backups={null} openBackup={async () => new Blob([])} />);
  return screen.getByRole("status").textContent ?? "";
}

describe("a file that was looked through", () => {
  test("says what is new here, and that what was deleted here comes back with it", () => {
    expect(lookedThrough(2)).toBe(
      "evening.gz was looked through. It holds 7 attempts. New here: 2 attempts. " +
        "What you deleted here and the file still has comes back with it.",
    );
  });

  test("says nothing of that where all of it is here", () => {
    expect(lookedThrough(0)).toBe(
      "evening.gz was looked through. It holds 7 attempts. All of it is here already.",
    );
  });
});
