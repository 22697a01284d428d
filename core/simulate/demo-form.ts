import type { Random } from "../exercise/seeded-random.ts";
import { cents, milliseconds } from "../units.ts";
import type { Form } from "./demo-player.ts";

/** How the made-up month begins and ends: three things get better, the others stay as they are. */
export const MONTH = {
  /** Share of weak reed actions that go wrong. */
  weakSlips: { first: 0.4, last: 0.06 },
  /** How far bends lie above their target. */
  shallowCents: { first: 24, last: 8 },
  /** How far onsets scatter. */
  spreadMs: { first: 32, last: 20 },
  slips: 0.025,
  spreadCents: 5,
  bendSpreadCents: 9,
  lateMs: -8,
} as const;

/** How much worse the first and second try of a day at one thing are; from the third on it is as good as that day. */
export const COLD = [1.4, 1.15] as const;

/** What differs from day to day, as factors and shifts: a head cold, a noisy room, a harp not yet warm. */
export interface Mood {
  readonly slips: number;
  readonly spread: number;
  readonly shiftCents: number;
  readonly shiftMs: number;
}

/** @param normal normally distributed numbers, mean 0, deviation 1 */
export const moodOf = (normal: Random): Mood => ({
  slips: Math.exp(0.25 * normal()),
  spread: Math.exp(0.12 * normal()),
  shiftCents: 2.5 * normal(),
  shiftMs: 4 * normal(),
});

/**
 * The form on a day.
 *
 * @param share how much of the month is over, 0..1
 * @param tried how often the same was tried before on that day
 */
export function formOf(share: number, tried: number, mood: Mood): Form {
  const worse = COLD[tried] ?? 1;
  const along = ({ first, last }: { readonly first: number; readonly last: number }) =>
    first + share * (last - first);
  return {
    slips: Math.min(1, MONTH.slips * mood.slips * worse),
    weakSlips: Math.min(1, along(MONTH.weakSlips) * mood.slips * worse),
    biasCents: cents(mood.shiftCents),
    spreadCents: cents(MONTH.spreadCents * mood.spread * worse),
    shallowCents: cents(along(MONTH.shallowCents) * worse),
    bendSpreadCents: cents(MONTH.bendSpreadCents * mood.spread * worse),
    lateMs: milliseconds(MONTH.lateMs + mood.shiftMs),
    spreadMs: milliseconds(along(MONTH.spreadMs) * mood.spread * worse),
  };
}
