import type { WrittenBar, WrittenTune } from "./written-bar.ts";

/** Written bars in the order they are played; and in words what could not be obeyed. */
export interface PlayingOrder {
  readonly bars: readonly number[];
  readonly troubles: readonly string[];
}

/** A run of written bars, `end` not included. */
interface Span {
  readonly start: number;
  readonly end: number;
}

/**
 * Plays out repeats, endings, parts and jumps.
 *
 * A section that ends with a repeat but has no beginning goes back to the beginning of the tune, of its part, to the latest
 * double bar line or the latest end of a repeat, whichever is nearest (ABC 2.1, 4.8). After a jump back repeats are not
 * played again and the last ending is taken, as players do [P].
 *
 * @param most bars after which playing stops: the answer then has `most + 1` bars
 */
export function playingOrder(tune: WrittenTune, most: number): PlayingOrder {
  const troubles: string[] = [];
  const order = tune.partOrder;
  const parts = order === null ? null : spansOfParts(tune.bars, order, troubles);
  const out: number[] = [];
  if (parts === null) {
    playWithJumps(tune.bars, out, most, troubles);
  } else {
    if (tune.bars.some((bar) => bar.jump !== null)) {
      troubles.push("a jump back (D.C. or D.S.) is not played, as the parts have an order of their own");
    }
    troubles.push(...repeatedTwice(tune.bars, parts));
    playParts(tune.bars, parts, out, most);
  }
  return { bars: out.slice(0, most + 1), troubles };
}

/** The spans to play, a span for each label; null if no label of the order stands in the tune. */
function spansOfParts(bars: readonly WrittenBar[], order: readonly string[], troubles: string[]) {
  const starts = bars.flatMap((bar, index) => (bar.part === null ? [] : [{ label: bar.part, index }]));
  const first = starts[0];
  if (first === undefined) {
    troubles.push(`the order of parts ${order.join("")} is not played, as no part is marked in the music`);
    return null;
  }
  const spans = new Map<string, Span>();
  for (const [place, { label, index }] of starts.entries()) {
    const span = { start: index, end: starts[place + 1]?.index ?? bars.length };
    if (spans.has(label)) troubles.push(`part ${label} is marked twice: the first is played`);
    else spans.set(label, span);
  }
  const missing = [...new Set(order)].filter((label) => !spans.has(label));
  if (missing.length === new Set(order).size) {
    troubles.push(
      `the order of parts ${order.join("")} is not played, as none of them is marked in the music`,
    );
    return null;
  }
  if (missing.length > 0) troubles.push(`part ${missing.join(", ")} is in the order but not in the music`);
  const unplayed = [...spans.keys()].filter((label) => !order.includes(label));
  if (unplayed.length > 0) troubles.push(`part ${unplayed.join(", ")} is in the music but not in the order`);
  const before: Span[] = first.index > 0 ? [{ start: 0, end: first.index }] : [];
  return [...before, ...order.flatMap((label) => spans.get(label) ?? [])];
}

/** A part with numbered endings that is played several times takes an ending each time (ABC 2.1, 4.10). */
function playParts(bars: readonly WrittenBar[], spans: readonly Span[], out: number[], most: number): void {
  const timesOf = new Map<number, number>();
  for (const span of spans) timesOf.set(span.start, (timesOf.get(span.start) ?? 0) + 1);
  const played = new Map<number, number>();
  for (const span of spans) {
    const time = (played.get(span.start) ?? 0) + 1;
    played.set(span.start, time);
    const endings = Math.max(0, ...bars.slice(span.start, span.end).flatMap((bar) => bar.ending ?? []));
    const each = endings > 0 && (timesOf.get(span.start) ?? 0) === endings;
    playSpan(bars, span, out, most, each ? time : "all");
    if (out.length > most) return;
  }
}

/** Parts that say twice that they are repeated: "AABB" over a part that has repeat signs too is played as written, four times. */
function repeatedTwice(bars: readonly WrittenBar[], spans: readonly Span[]): readonly string[] {
  const twice = spans.filter((span, index) => span.start === spans[index + 1]?.start);
  const repeated = twice.filter(
    ({ start, end }) =>
      bars.slice(start, end).some((bar) => bar.repeatTo > 0) &&
      bars.slice(start, end).every((bar) => bar.ending === null),
  );
  return [...new Set(repeated.map(({ start }) => bars[start]?.part ?? ""))].map(
    (label) => `part ${label} is repeated by its own signs and again by the order of parts`,
  );
}

/** A section to be repeated: what comes before its endings, and the endings. */
interface Section extends Span {
  readonly endings: readonly (Span & { readonly numbers: readonly number[] })[];
  readonly times: number;
}

/** Cuts a span into sections; each bar belongs to one. */
function sectionsOf(bars: readonly WrittenBar[], span: Span): readonly Section[] {
  const sections: Section[] = [];
  let start = span.start;
  while (start < span.end) {
    const section = sectionAt(bars, start, span.end);
    sections.push(section);
    start = section.end;
  }
  return sections;
}

/** The section that begins at a bar: it ends with its last ending, or at its repeat, or before the next beginning. */
function sectionAt(bars: readonly WrittenBar[], start: number, limit: number): Section {
  let times = bars[start]?.repeatFrom ?? 0;
  const open = times > 0;
  for (let at = start; at < limit; at++) {
    const bar = bars[at];
    if (bar === undefined) break;
    const begins = at > start && (bar.repeatFrom > 0 || bar.part !== null);
    if (begins) return { start, end: at, endings: [], times: 1 };
    if (bar.ending !== null) return sectionWithEndings(bars, start, at, limit, times);
    if (bar.repeatTo > 0) {
      times = Math.max(times, bar.repeatTo);
      return { start, end: at + 1, endings: [], times };
    }
    if (bar.doubleBar && !open) return { start, end: at + 1, endings: [], times: 1 };
  }
  return { start, end: limit, endings: [], times: 1 };
}

function sectionWithEndings(
  bars: readonly WrittenBar[],
  start: number,
  first: number,
  limit: number,
  times: number,
): Section {
  const endings: { start: number; end: number; numbers: readonly number[] }[] = [];
  let at = first;
  while (at < limit) {
    const numbers = bars[at]?.ending;
    if (numbers === null || numbers === undefined) break;
    const end = endOfEnding(bars, at, limit);
    endings.push({ start: at, end, numbers });
    at = end;
  }
  const highest = Math.max(...endings.flatMap((ending) => ending.numbers));
  const repeated = endings.some((ending) => (bars[ending.end - 1]?.repeatTo ?? 0) > 0);
  const most = endings.length > 1 || repeated ? highest : 1;
  // A lone first ending with its repeat sign is left out the second time.
  const asked = endings.length === 1 && repeated ? Math.max(2, highest) : most;
  // A lone second ending after a repeat sign: the first has no number, and what follows is played whatever it is called.
  if (endings.length === 1 && !repeated && start === first) return { start, end: at, endings: [], times: 1 };
  return { start, end: at, endings, times: Math.max(asked, times > 2 ? times : 0) };
}

function endOfEnding(bars: readonly WrittenBar[], start: number, limit: number): number {
  for (let at = start; at < limit; at++) {
    const bar = bars[at];
    const next = bars[at + 1];
    if (bar === undefined || next === undefined) return limit;
    if (bar.repeatTo > 0 || bar.doubleBar || next.ending !== null) return at + 1;
    if (next.repeatFrom > 0 || next.part !== null) return at + 1;
  }
  return limit;
}

/** Plays a span: all passes of every section, or one pass alone. */
function playSpan(
  bars: readonly WrittenBar[],
  span: Span,
  out: number[],
  most: number,
  pass: number | "all" | "last",
): void {
  for (const section of sectionsOf(bars, span)) {
    if (pass === "all") {
      for (let time = 1; time <= section.times; time++) {
        playSection(section, time, out);
        if (out.length > most) return;
      }
    } else {
      playSection(section, pass === "last" ? section.times : pass, out);
    }
    if (out.length > most) return;
  }
}

function playSection(section: Section, time: number, out: number[]): void {
  const bodyEnd = section.endings[0]?.start ?? section.end;
  for (let bar = section.start; bar < bodyEnd; bar++) out.push(bar);
  const ending = section.endings.find((one) => one.numbers.includes(time));
  if (ending === undefined) return;
  for (let bar = ending.start; bar < ending.end; bar++) out.push(bar);
}

/** As written up to the first jump, then back, and up to its end. */
function playWithJumps(bars: readonly WrittenBar[], out: number[], most: number, troubles: string[]): void {
  const from = bars.findIndex((bar) => bar.jump !== null);
  const jump = bars[from]?.jump ?? null;
  const codaAt = bars.findIndex((bar) => bar.coda);
  if (jump === null) {
    playSpan(bars, { start: 0, end: bars.length }, out, most, "all");
    return;
  }
  playSpan(bars, { start: 0, end: from + 1 }, out, most, "all");
  if (out.length > most) return;
  const segno = bars.findIndex((bar) => bar.segno);
  if (jump.to === "segno" && segno < 0)
    troubles.push("D.S. has no sign to go back to: the beginning is taken");
  const start = jump.to === "segno" && segno >= 0 ? segno : 0;
  const back: number[] = [];
  playSpan(bars, { start, end: bars.length }, back, most, "last");
  leaveAtSign(bars, back, jump.until, { codaAt, from }, troubles);
  out.push(...back);
}

/** Cuts the way back at the word it ends with, and adds the coda. */
function leaveAtSign(
  bars: readonly WrittenBar[],
  back: number[],
  until: "fine" | "coda" | "end",
  { codaAt, from }: { readonly codaAt: number; readonly from: number },
  troubles: string[],
): void {
  const leave = back.findIndex((bar) => bars[bar]?.toCoda === true && codaAt > bar);
  if (until !== "fine" && leave >= 0) {
    back.length = leave + 1;
    playSpan(bars, { start: codaAt, end: bars.length }, back, Number.POSITIVE_INFINITY, "all");
    return;
  }
  if (until === "coda") troubles.push("no way to the coda is marked: it is played on to the end");
  const fine = back.findIndex((bar) => bars[bar]?.fine === true);
  if (fine >= 0 && until !== "coda") {
    back.length = fine + 1;
    return;
  }
  if (until === "fine") troubles.push("no Fine is marked: it is played up to where the jump is written");
  if (until !== "coda") {
    const end = back.indexOf(from);
    if (end >= 0) back.length = end + 1;
  }
}
