import type { MeasureTrend } from "../../../core/progress/trends/trend.ts";

/** What a measure is counted in. */
export type Unit = MeasureTrend["unit"];

/** The unit after a number. */
export const UNIT_WORDS: Readonly<Record<Unit, string>> = {
  share: "%",
  cents: "cents",
  ms: "ms",
  bpm: "beats a minute",
};

/** "93 %", "6.4 cents", "+12 ms": a value with its unit; a sign where it may be either. */
export function valueInWords(value: number, unit: Unit, signed = false): string {
  if (unit === "share") return `${Math.round(100 * value)} %`;
  return `${number(value, signed)} ${UNIT_WORDS[unit]}`;
}

/** "+12", "−3.4": with a sign where asked, a tenth below ten. */
export function number(value: number, signed = false): string {
  const size = Math.abs(value);
  const digits = size < 9.95 ? size.toFixed(1) : size.toFixed(0);
  if (Number(digits) === 0) return "0";
  const sign = value < 0 ? "−" : signed ? "+" : "";
  return `${sign}${digits}`;
}
