/** The interval a degree is, by the name tonal has for it: "b7" -> "7m", "#4" -> "4A". */
export function intervalOfDegree(name: string): string {
  const number = Number(name.at(-1));
  const sign = name.slice(0, -1);
  const perfect: Readonly<Record<string, string>> = { bb: "dd", b: "d", "": "P", "#": "A" };
  const imperfect: Readonly<Record<string, string>> = { bb: "d", b: "m", "": "M", "#": "A" };
  const quality = ([1, 4, 5].includes(number) ? perfect : imperfect)[sign];
  if (quality === undefined) throw new Error(`"${name}" is not a degree`);
  return `${number}${quality}`;
}
