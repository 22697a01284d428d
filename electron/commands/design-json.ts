import type { Harp } from "../../core/instrument/harp.ts";
import { type Layout, reedAt } from "../../core/instrument/layout.ts";
import { writeLayout } from "../../core/instrument/layout-json.ts";
import { modeOn } from "../../core/instrument/scale-report.ts";
import { tab } from "../../core/instrument/tab.ts";
import { spellingOf } from "../../core/pitch/modes.ts";
import { namer, noteName } from "../../core/pitch/note-names.ts";
import { type Midi, midi, semitones } from "../../core/units.ts";
import { compareHarps, type Exchange, type HarpComparison } from "../../core/workshop/design/compare.ts";
import type { CoverLine } from "../../core/workshop/design/cover-design.ts";
import { type CatalogueLine, type TriadGrip, triadGrips } from "../../core/workshop/design/found-layout.ts";
import type { KeysShare } from "../../core/workshop/design/keys-share.ts";
import { changesBetween, semitonesMoved } from "../../core/workshop/design/limits.ts";
import type { RepertoireFit } from "../../core/workshop/design/repertoire.ts";
import { triadsOfWish } from "../../core/workshop/design/triads-wanted.ts";
import type { TuneLine } from "../../core/workshop/design/tune-line.ts";
import { type DesignWish, scaleName, wantedNotes } from "../../core/workshop/design/wish.ts";
import { shortHarp } from "./harps-option.ts";

/** Home note and mode things are named in: of the first scale, else the harp's key. */
function scaleOfWish({ harp, scales: [first] }: DesignWish) {
  const homeName = first?.homeName ?? harp.key;
  const mode = first?.mode ?? "major";
  return {
    ...modeOn(first?.home ?? harp.keyNote % 12, mode, homeName),
    spelling: spellingOf(homeName, mode),
  };
}

const nameOf = (wish: DesignWish) => namer(scaleOfWish(wish).spelling);

export function wishToJson(wish: DesignWish) {
  const name = nameOf(wish);
  return {
    scales: wish.scales.map((scale) => ({
      name: scaleName(scale),
      from: name(scale.low),
      to: name(scale.high),
    })),
    notes: wantedNotes(wish).map((note) => name(midi(note + wish.harp.keyNote))),
    limits: wish.limits,
    chordsCount: wish.chordsCount,
    mustHave: wish.mustHave,
  };
}

/** A layout found, beside the start or another. */
export function layoutToJson(wish: DesignWish, layout: Layout, beside: Layout) {
  const { harp } = wish;
  const name = nameOf(wish);
  const changes = changesBetween(harp.layout, layout);
  return {
    reedsChanged: changes.length,
    semitonesMoved: semitonesMoved(changes),
    changes: changes.map(({ hole, breath, from, to }) => ({
      reed: tab({ hole, breath, technique: "plain", bentSemitones: semitones(0) }),
      from: name(midi(harp.keyNote + from)),
      to: name(midi(harp.keyNote + to)),
      semitones: to - from,
    })),
    notes: rowsOf(harp, layout, name),
    triads: gripsToJson(triadGrips(layout, triadsOfWish(wish))),
    beside: beside.id,
    gainedAndLost: comparisonToJson(
      compareHarps({ ...harp, layout: beside }, { ...harp, layout }, scaleOfWish(wish)),
      name,
    ),
    layout: JSON.parse(writeLayout(layout)) as unknown,
  };
}

function rowsOf(harp: Harp, layout: Layout, name: (note: Midi) => string) {
  const row = (breath: "blow" | "draw") =>
    layout.holes.map((_, index) => {
      const reed = reedAt(layout, index + 1, breath);
      return reed === null ? null : name(midi(harp.keyNote + reed));
    });
  return { blow: row("blow"), draw: row("draw") };
}

const gripsToJson = (grips: readonly TriadGrip[]) =>
  grips.map(({ triad, breath, holes }) => ({ numeral: triad.numeral, of: triad.scale, breath, holes }));

function comparisonToJson(comparison: HarpComparison, name: (note: Midi) => string) {
  const each = <T, R>({ gained, lost }: Exchange<T>, write: (one: T) => R) => ({
    gained: gained.map(write),
    lost: lost.map(write),
  });
  return {
    plainNotes: each(comparison.plain, name),
    withBends: each(comparison.reached, name),
    withOverblows: each(comparison.everything, name),
    bends: each(comparison.bends, ({ action, note }) => ({ tab: tab(action), note: name(note) })),
    triads: each(comparison.triads, (numeral) => numeral),
    splitOctaves: each(comparison.octaves, ({ breath, holes, notes }) => ({
      breath,
      holes,
      notes: notes.map((one) => name(one)),
    })),
  };
}

/** What the catalogue gives of the scales and, where tunes count, how they lie on it: efforts are then what they are at least. */
export const catalogueToJson = (
  wish: DesignWish,
  lines: readonly CatalogueLine[],
  line: CoverLine | TuneLine,
) =>
  lines.map(({ layout, apart, missing, grips }) => ({
    layout: layout.id,
    reedsApart: apart,
    missing: missing.map((note) => noteName(note, scaleOfWish(wish).spelling)),
    triads: [...new Set(grips.map(({ triad }) => triad.numeral))],
    ...(line.kind === "line" && "catalogue" in line ? { tunes: catalogueFit(line, layout) } : {}),
  }));

function catalogueFit({ notes, catalogue }: Extract<TuneLine, { kind: "line" }>, layout: Layout) {
  const found = catalogue.find((one) => one.layout.id === layout.id);
  return found === undefined ? null : fitToJson(notes, found.fit);
}

export const fitToJson = (notes: number, { notPlain, missing, effort }: RepertoireFit) => ({
  notes,
  notPlain,
  missing,
  effort: Number(effort.toFixed(3)),
});

export const shareToJson = ({ harps, tunes, of, allKeys, proved }: KeysShare) => ({
  keys: harps.map((harp) => shortHarp(harp).key),
  tunes,
  of,
  share: of === 0 ? 0 : Number((tunes / of).toFixed(4)),
  withAllKeys: allKeys,
  proved,
});
