/** Whether two plain data say the same, typed arrays among them; what is absent is not the same as what is undefined. */
export function sameData(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return false;
  const names = Object.keys(one);
  if (names.length !== Object.keys(other).length || Array.isArray(one) !== Array.isArray(other)) return false;
  return names.every((name) => name in other && sameData(partOf(one, name), partOf(other, name)));
}

const partOf = (data: object, name: string): unknown => (data as Record<string, unknown>)[name];
