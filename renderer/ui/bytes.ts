const UNITS = ["kB", "MB", "GB", "TB"] as const;

/** "312 kB", "1.4 MB": what a file or a take needs, counted in thousands as disks are. */
export function bytesInWords(bytes: number): string {
  if (bytes <= 0) return "0 kB";
  let [value, place] = [bytes / 1000, 0];
  // 999.5 and more would be written as a thousand.
  while (value >= 999.5 && place < UNITS.length - 1) [value, place] = [value / 1000, place + 1];
  const digits = place === 0 || value >= 9.95 ? 0 : 1;
  return `${Math.max(value, place === 0 ? 1 : 0).toFixed(digits)} ${UNITS[place]}`;
}
