import type { Harp } from "../../../core/instrument/harp.ts";
import type { HomeScale } from "../../../core/instrument/scale-report.ts";
import { tab } from "../../../core/instrument/tab.ts";
import { noteName } from "../../../core/pitch/note-names.ts";
import { compareHarps, type Exchange } from "../../../core/workshop/design/compare.ts";
import type { KeysShare } from "../../../core/workshop/design/keys-share.ts";
import type { Writing } from "../../ui/writing.ts";

/** One kind of thing that is gained or lost, each as words. */
export interface GainLine {
  readonly of: string;
  readonly gained: readonly string[];
  readonly lost: readonly string[];
}

/** What is gained and lost from one harp to another, kind by kind; a kind in which nothing changes has empty lists. */
export function gainLines(
  from: Harp,
  to: Harp,
  scale: HomeScale,
  { note, say }: Writing,
): readonly GainLine[] {
  const { plain, bends, triads, octaves, everything } = compareHarps(from, to, scale);
  const named = (one: Parameters<typeof noteName>[0]) => note(noteName(one, scale.spelling));
  return [
    line("Notes without bends", plain, named),
    line("Notes by any means", everything, named),
    line("Bends", bends, (one) => `${say(tab(one.action))} ${named(one.note)}`),
    line("Triads", triads, String),
    line(
      "Split octaves",
      octaves,
      ({ breath, holes, notes }) => `${holes.join("-")} ${breath} ${notes.map(named).join("-")}`,
    ),
  ];
}

const line = <T>(of: string, { gained, lost }: Exchange<T>, words: (one: T) => string): GainLine => ({
  of,
  gained: gained.map(words),
  lost: lost.map(words),
});

/** "33 of 41 (80 %): G, A, D". */
export function shareInWords({ harps, tunes, of, proved }: KeysShare): string {
  if (of === 0) return "no tune";
  const share = Math.round((100 * tunes) / of);
  const keys = harps.length === 0 ? "" : `: ${harps.map(({ key }) => key).join(", ")}`;
  return `${proved ? "" : "at least "}${tunes} of ${of} tunes (${share} %)${keys}`;
}
