import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import type { Layout } from "../../../core/instrument/layout.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import type { Progress } from "../../../core/path/long-work.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { tuneLine as listLine } from "../../../core/tune/tune-list.ts";
import { coverLine } from "../../../core/workshop/design/cover-design.ts";
import { nameFound } from "../../../core/workshop/design/found-layout.ts";
import { keysShare } from "../../../core/workshop/design/keys-share.ts";
import { changesBetween, semitonesMoved } from "../../../core/workshop/design/limits.ts";
import { loosenings } from "../../../core/workshop/design/loosen.ts";
import type { RepertoireFit } from "../../../core/workshop/design/repertoire.ts";
import { tuneLine } from "../../../core/workshop/design/tune-line.ts";
import type { SearchProgress } from "../../../core/workshop/design/tune-search.ts";
import type { DesignAnswer, DesignAsk, DesignReport, DesignRow } from "./design-messages.ts";

/** Layouts shown of as many changes, where scales alone are asked for. */
const MOST_LAYOUTS = 3;

type Told = Extract<DesignReport, { kind: "progress" }>;

/** Works a design out, a step at a time. What the worker runs and tests call. */
export function* designAnswer(ask: DesignAsk): Generator<Told, DesignAnswer> {
  const tunes = yield* read(ask.texts);
  const stage = stages(0.1);
  const { danceWeights } = ask;
  if (danceWeights === null) return yield* scalesAlone(ask, tunes, stage);
  const weighed = tunes
    .map((tune) => ({ tune, weight: danceWeights[listLine(tune).dance] ?? 1 }))
    .filter(({ weight }) => weight > 0);
  const { harps } = ask;
  const line = yield* stage(
    tuneLine(ask.wish, {
      tunes: weighed,
      setting: { harps, abilities: PLAIN_AND_BENDS, weights: FIRST_WEIGHTS },
      random: seededRandom(ask.seed),
    }),
    0.9,
  );
  if (line.kind === "impossible") return yield* impossible(ask, stage);
  if (line.kind !== "line") return line;
  const named = namer(ask.wish.harp.layout);
  const rows: DesignRow[] = [];
  for (const { layout, changed, moved, fit } of line.points) {
    const keys = yield* stage(shareOf(tunes, layout), 1);
    rows.push({ layout: named(layout, changed), changed, moved, tunes: figures(fit), keys, proved: null });
  }
  const start = yield* startRow(ask, tunes, stage, line.start);
  const catalogue = Object.fromEntries(
    line.catalogue.map(({ layout, fit: { notPlain, missing } }) => [layout.id, { notPlain, missing }]),
  );
  return {
    kind: "found",
    start,
    rows,
    catalogue,
    notes: line.notes,
    tunes: tunes.length,
    counting: weighed.length,
  };
}

function* scalesAlone(ask: DesignAsk, tunes: readonly Tune[], stage: Stage): Generator<Told, DesignAnswer> {
  const line = yield* stage(coverLine(ask.wish, { most: MOST_LAYOUTS }), 0.7);
  if (line.kind === "impossible") return yield* impossible(ask, stage);
  if (line.kind !== "line") return line;
  const named = namer(ask.wish.harp.layout);
  const rows: DesignRow[] = [];
  for (const { changed, layouts, proved } of line.points)
    for (const [place, layout] of layouts.entries()) {
      const keys = yield* stage(shareOf(tunes, layout), 1);
      const moved = semitonesMoved(changesBetween(ask.wish.harp.layout, layout));
      // The table tells the first of a point as proved; the next ones are only as good as they are.
      rows.push({
        layout: named(layout, changed),
        changed,
        moved,
        tunes: null,
        keys,
        proved: place === 0 ? proved : null,
      });
    }
  const start = yield* startRow(ask, tunes, stage, null);
  return { kind: "found", start, rows, catalogue: {}, notes: 0, tunes: tunes.length, counting: 0 };
}

function* impossible(ask: DesignAsk, stage: Stage): Generator<Told, DesignAnswer> {
  const found = yield* stage(loosenings(ask.wish), 1);
  return { kind: "impossible", loosen: found.map(({ words, wish }) => ({ words, wish })) };
}

function* startRow(ask: DesignAsk, tunes: readonly Tune[], stage: Stage, fit: RepertoireFit | null) {
  const { layout } = ask.wish.harp;
  const keys = yield* stage(shareOf(tunes, layout), 1);
  return { layout, changed: 0, moved: 0, tunes: fit === null ? null : figures(fit), keys, proved: null };
}

function* shareOf(tunes: readonly Tune[], layout: Layout) {
  return tunes.length === 0 ? null : yield* keysShare(tunes, layout);
}

const figures = ({ notPlain, missing, effort }: RepertoireFit) => ({ notPlain, missing, effort });

/** Gives each layout of as many changes a name of its own. */
function namer(start: Layout) {
  const seen = new Map<number, number>();
  return (layout: Layout, changed: number) => {
    const place = seen.get(changed) ?? 0;
    seen.set(changed, place + 1);
    return nameFound(start, layout, place);
  };
}

/** A text that cannot be read is passed over: the list it comes from tells of it. */
function* read(texts: readonly string[]): Generator<Told, readonly Tune[]> {
  const tunes: Tune[] = [];
  for (const [place, text] of texts.entries()) {
    const found = readAbc(text);
    if (found.kind === "tunes") tunes.push(...found.tunes.slice(0, 1));
    yield { kind: "progress", share: (0.1 * place) / texts.length, best: null };
  }
  return tunes;
}

type Stage = <T>(work: Generator<Progress | SearchProgress, T>, to: number) => Generator<Told, T>;

/** Works in a row, each so far along the whole. */
function stages(begin: number): Stage {
  let from = begin;
  let best: Told["best"] = null;
  return function* run(work, to) {
    for (let step = work.next(); ; step = work.next()) {
      if (step.done === true) {
        from = Math.min(to, from + (to - from) / 2);
        return step.value;
      }
      const { done, of } = step.value;
      if ("best" in step.value && step.value.best !== null) {
        const { changed, notPlain } = step.value.best;
        best = { changed, notPlain };
      }
      yield { kind: "progress", share: from + ((to - from) * done) / Math.max(1, of), best };
    }
  };
}
