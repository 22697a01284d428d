import type { Repair } from "../../../core/workshop/retune/repair.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";

/** The repair of a harp that is under way; null where there is none. */
export const openRepair = ({ repairs }: OwnedHarp): Repair | null =>
  repairs?.find(({ doneOn }) => doneOn === null) ?? null;

/** The harp with a repair begun or changed. */
export function withRepair(owned: OwnedHarp, repair: Repair): OwnedHarp {
  const { repairs = [] } = owned;
  const isKnown = repairs.some(({ id }) => id === repair.id);
  return {
    ...owned,
    repairs: isKnown ? repairs.map((one) => (one.id === repair.id ? repair : one)) : [...repairs, repair],
  };
}
