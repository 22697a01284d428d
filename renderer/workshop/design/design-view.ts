import { type Harp, soundingRange } from "../../../core/instrument/harp.ts";
import { BREATHS, type Breath, type Hole } from "../../../core/instrument/layout.ts";
import { positionHome, positionHomeName } from "../../../core/instrument/positions.ts";
import { readTab } from "../../../core/instrument/tab.ts";
import type { ModeName } from "../../../core/pitch/modes.ts";
import { midi } from "../../../core/units.ts";
import {
  type HoleOrder,
  type KeptBend,
  type KeptChord,
  type ReedLimit,
  USUAL_MOST_SEMITONES,
} from "../../../core/workshop/design/limits.ts";
import type { DesignWish, WantedScale } from "../../../core/workshop/design/wish.ts";
import { type ChosenHarp, FIRST_HARP, harpOfChoice } from "../../ui/chosen-harp.ts";

/** A scale as it is chosen: position on the harp begun with, mode, and the range in MIDI numbers. */
export interface ScaleRow {
  readonly position: number;
  readonly mode: ModeName;
  readonly low: number;
  readonly high: number;
}

export const ORDER_CHOICES = ["free", "as now", "draw higher", "blow higher"] as const;
export type OrderChoice = (typeof ORDER_CHOICES)[number];

export const KEY_CHOICES = ["every", "mine", "this"] as const;
/** On which keys the tunes are played. */
export type KeyChoice = (typeof KEY_CHOICES)[number];

/** Everything that is chosen for a design. */
export interface DesignView {
  readonly harp: ChosenHarp;
  readonly scales: readonly ScaleRow[];
  readonly mostSemitones: number;
  /** Null for any number. */
  readonly mostChanged: number | null;
  readonly order: OrderChoice;
  /** Holes the order does not hold for. */
  readonly freeHoles: readonly number[];
  /** Reeds that stay, in tab: "4", "-4". */
  readonly stays: readonly string[];
  /** Chords that are kept: "4-5-6 blow". */
  readonly chords: readonly string[];
  /** Bends that are kept, in tab: "-3''". */
  readonly bends: readonly string[];
  readonly chordsCount: boolean;
  /** Numerals of triads it must have. */
  readonly triads: readonly string[];
  /** Whether the tunes on the list count, and how much by dance; 1 where none is said, 0 leaves them out. */
  readonly withTunes: boolean;
  readonly danceWeights: Readonly<Record<string, number>>;
  readonly keys: KeyChoice;
}

/** The whole major scale of second position on a C harp, without bends: D4 to B6. */
export const FIRST_DESIGN: DesignView = {
  harp: { ...FIRST_HARP, key: "C" },
  scales: [{ position: 2, mode: "major", low: 62, high: 95 }],
  mostSemitones: USUAL_MOST_SEMITONES,
  mostChanged: null,
  order: "free",
  freeHoles: [],
  stays: [],
  chords: [],
  bends: [],
  chordsCount: true,
  triads: [],
  withTunes: false,
  danceWeights: {},
  keys: "every",
};

export const MOST_SCALES = 6;
export const MOST_DANCE_WEIGHT = 9;

/** The view with another harp to begin from: ranges move along with the key, and what its reeds cannot do is let go. */
export function withHarp(view: DesignView, chosen: ChosenHarp): DesignView {
  const by = harpOfChoice(chosen, 440).keyNote - harpOfChoice(view.harp, 440).keyNote;
  const moved = view.scales.map((scale) => ({ ...scale, low: scale.low + by, high: scale.high + by }));
  const same = chosen.layout === view.harp.layout;
  const kept = same ? {} : { stays: [], chords: [], bends: [], freeHoles: [] };
  return { ...view, ...kept, harp: chosen, scales: moved };
}

/** The wish that a view is. @param a4Hz A4 of the harp */
export function wishOfView(view: DesignView, a4Hz: number): DesignWish {
  const harp = harpOfChoice(view.harp, a4Hz);
  return {
    harp,
    scales: view.scales.map((scale) => wantedScale(harp, scale)),
    limits: {
      mostSemitones: view.mostSemitones,
      mostChanged: view.mostChanged,
      reeds: view.stays.flatMap(stayOf),
      order: harp.layout.holes.map((hole, index) =>
        view.freeHoles.includes(index + 1) ? "free" : orderOfHole(hole, view.order),
      ),
      chords: view.chords.flatMap((text) => readChord(text) ?? []),
      bends: view.bends.flatMap(bendOf),
    },
    chordsCount: view.chordsCount,
    mustHave: view.triads,
  };
}

export function wantedScale(harp: Harp, { position, mode, low, high }: ScaleRow): WantedScale {
  const homeName = positionHomeName(harp, position);
  return { homeName, home: positionHome(harp, position), mode, low: midi(low), high: midi(high) };
}

function orderOfHole({ blow, draw }: Hole, order: OrderChoice): HoleOrder {
  if (order !== "as now") return order;
  if (blow === null || draw === null || blow === draw) return "free";
  return draw > blow ? "draw higher" : "blow higher";
}

function stayOf(text: string): readonly ReedLimit[] {
  const action = readTab(text);
  return action === null ? [] : [{ hole: action.hole, breath: action.breath, up: 0, down: 0 }];
}

function bendOf(text: string): readonly KeptBend[] {
  const action = readTab(text);
  if (action === null) return [];
  const { hole, breath, bentSemitones } = action;
  return [{ hole, breath, bentSemitones }];
}

export const chordText = ({ breath, holes }: KeptChord): string => `${holes.join("-")} ${breath}`;

/** Reads "4-5-6 blow"; null where it is none. */
export function readChord(text: string): KeptChord | null {
  const [places = "", word] = text.split(" ");
  const breath: Breath | undefined = BREATHS.find((one) => one === word);
  const holes = places.split("-").map(Number);
  return breath === undefined || holes.some((hole) => !Number.isInteger(hole)) ? null : { breath, holes };
}

/** Another scale to begin with: the major scale of the next position, over what the harp sounds. */
export function nextScale(view: DesignView): ScaleRow {
  const { low, high } = soundingRange(harpOfChoice(view.harp, 440));
  const last = view.scales.at(-1);
  return { position: ((last?.position ?? 1) % 12) + 1, mode: "major", low: low + 2, high: high - 1 };
}
