import type { Harp } from "../../instrument/harp.ts";
import { BREATHS, type Reed, reedAt, reedsOf } from "../../instrument/layout.ts";
import { targetCents } from "../../instrument/target-cents.ts";
import { midiToHz } from "../../pitch/equal-temperament.ts";
import { type Cents, cents, type Hz, type Midi, midi } from "../../units.ts";
import { plainAction } from "../measure/harp-sounds.ts";
import type { ReedPlace } from "../measure/reed-reading.ts";

/** How one reed sounds now, and how it should. */
export interface ReedChange extends ReedPlace {
  /** The notes by name: whole MIDI numbers. */
  readonly noteNow: Midi;
  readonly noteWanted: Midi;
  readonly nowHz: Hz;
  readonly wantedHz: Hz;
  /** What lies between: 1200 log2(wanted / now); positive is to be raised. */
  readonly changeCents: Cents;
  /** What a meter set to the wanted A4 reads now, from the note it is now, and then, from the note it is to be. */
  readonly nowCents: Cents;
  readonly wantedCents: Cents;
  /** How far the reed was measured from what it should sound now; null where nobody measured it. */
  readonly measuredOffCents: Cents | null;
}

/** A valve that one of the two has and the other has not. */
export interface ValveChange extends ReedPlace {
  readonly change: "put on" | "take off";
}

/** Two harps reed by reed. */
export interface HarpChange {
  /** Every reed both have, hole by hole, blow before draw. */
  readonly reeds: readonly ReedChange[];
  /** Reeds of the harp that the wanted layout has none for. */
  readonly idle: readonly Reed[];
  readonly valves: readonly ValveChange[];
  /** Reeds without a reading on a harp that was measured. */
  readonly unmeasured: readonly ReedPlace[];
}

export type ComparedHarps =
  | { readonly kind: "compared"; readonly change: HarpChange }
  | { readonly kind: "not possible"; readonly reason: string };

/**
 * What has to become of each reed so that one harp becomes the other. A reed now sounds what its temperament gives it and
 * what it was measured off that (`reedOffsets`), on its own A4; wanted is what the other harp's temperament gives, on that
 * one's A4, as if no reed of it were off.
 *
 * @returns why it cannot be, in one line that names hole and reed, where the two have not the same holes or a wanted reed
 *          is not there
 */
export function compareHarps(from: Harp, to: Harp): ComparedHarps {
  const reason = mismatch(from, to);
  if (reason !== null) return { kind: "not possible", reason };
  const wanted = reedsOf(to.layout);
  const reeds = wanted.map((reed) => reedChange(from, to, reed));
  const idle = reedsOf(from.layout).filter(({ hole, breath }) => reedAt(to.layout, hole, breath) === null);
  const unmeasured =
    from.reedOffsets === undefined
      ? []
      : reeds.filter((reed) => reed.measuredOffCents === null).map(({ hole, breath }) => ({ hole, breath }));
  return { kind: "compared", change: { reeds, idle, valves: valveChanges(from, to), unmeasured } };
}

function mismatch(from: Harp, to: Harp): string | null {
  const holes = from.layout.holes.length;
  if (holes !== to.layout.holes.length) {
    return `${from.layout.name} has ${holes} ${holes === 1 ? "hole" : "holes"}, but ${to.layout.name} has ${to.layout.holes.length}: retuning makes no holes`;
  }
  if (from.reedOffsets !== undefined && from.reedOffsets.length !== holes) {
    return `the harp was measured in ${from.reedOffsets.length} holes, but it has ${holes}`;
  }
  const missing = reedsOf(to.layout).find(({ hole, breath }) => reedAt(from.layout, hole, breath) === null);
  if (missing === undefined) return null;
  return `hole ${missing.hole}, ${missing.breath}: ${to.layout.name} wants a reed there, but ${from.layout.name} has none to tune`;
}

function reedChange(from: Harp, to: Harp, { hole, breath, sounds }: Reed): ReedChange {
  const plain = plainAction({ hole, breath });
  const noteNow = midi(from.keyNote + (reedAt(from.layout, hole, breath) ?? 0));
  const noteWanted = midi(to.keyNote + sounds);
  const measuredOffCents = from.reedOffsets?.[hole - 1]?.[breath] ?? null;
  const soundsCents = targetCents(from, plain) + (measuredOffCents ?? 0);
  const wantedCents = targetCents(to, plain);
  const nowHz = midiToHz(midi(noteNow + soundsCents / 100), from.a4);
  const wantedHz = midiToHz(midi(noteWanted + wantedCents / 100), to.a4);
  return {
    hole,
    breath,
    noteNow,
    noteWanted,
    nowHz,
    wantedHz,
    changeCents: cents(1200 * Math.log2(wantedHz / nowHz)),
    nowCents: cents(1200 * Math.log2(nowHz / midiToHz(noteNow, to.a4))),
    wantedCents,
    measuredOffCents,
  };
}

function valveChanges(from: Harp, to: Harp): readonly ValveChange[] {
  return to.layout.holes.flatMap((hole, index) =>
    BREATHS.flatMap((breath): readonly ValveChange[] => {
      const wants = hole.valved?.includes(breath) ?? false;
      const has = from.layout.holes[index]?.valved?.includes(breath) ?? false;
      return wants === has ? [] : [{ hole: index + 1, breath, change: wants ? "put on" : "take off" }];
    }),
  );
}
