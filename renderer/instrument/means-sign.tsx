import type { Means } from "../../core/instrument/scale-report.ts";

interface MeansSignProps {
  readonly means: Means | "complete" | "partial" | "none";
}

/** Filled: plain or complete. Half: by bend, or partial. Hollow: by overblow. Cross: not there. Shape says it, not colour. */
export function MeansSign({ means }: MeansSignProps) {
  return (
    <svg className="means" viewBox="0 0 14 14" width="14" height="14" aria-hidden="true">
      {means === "missing" || means === "none" ? (
        <path className="cross" d="M 2 2 l 10 10 m 0 -10 l -10 10" />
      ) : (
        <circle className={isWhole(means) ? "whole" : "hollow"} cx="7" cy="7" r="5.5" />
      )}
      {(means === "bend" || means === "partial") && (
        <path className="whole" d="M 7 1.5 a 5.5 5.5 0 0 0 0 11 Z" />
      )}
    </svg>
  );
}

const isWhole = (means: MeansSignProps["means"]) => means === "plain" || means === "complete";
