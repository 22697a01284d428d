/**
 * Where two plain values differ: what is no number at all, numbers by more than `atMost`. For what two engines worked out: their
 * powers differ in the last digit, and what is worked out from those in a few more.
 */
export function differencesBeyond(
  atMost: number,
  one: unknown,
  other: unknown,
  at = "it",
): readonly string[] {
  if (typeof one === "number" && typeof other === "number")
    return Object.is(one, other) || Math.abs(one - other) <= atMost ? [] : [`${at}: ${one}, ${other}`];
  if (!isCompound(one) || !isCompound(other) || Array.isArray(one) !== Array.isArray(other))
    return Object.is(one, other) ? [] : [`${at}: ${JSON.stringify(one)}, ${JSON.stringify(other)}`];
  const names = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...names].flatMap((name) => differencesBeyond(atMost, one[name], other[name], `${at}.${name}`));
}

const isCompound = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null;
