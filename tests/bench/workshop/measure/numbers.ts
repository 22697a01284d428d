export const percent = (count: number, of: number): string =>
  of === 0 ? "none" : `${((100 * count) / of).toFixed(1)} %`;
