import { useEffect, useState } from "react";
import { dbfsWords } from "./findings.ts";
import type { SoundCheckSession } from "./sound-check-session.ts";

const LOWEST_DBFS = -80;
const WIDTH = 480;
const HEIGHT = 16;
/** Softer is too quiet. */
const ENOUGH_DBFS = -50;

const placeOf = (dbfs: number) => (WIDTH * Math.max(0, dbfs - LOWEST_DBFS)) / -LOWEST_DBFS;

interface LevelBarProps {
  readonly session: SoundCheckSession;
  readonly isOpen: boolean;
}

/** How loud it is just now: a quiet bar, with a mark where notes become loud enough. */
export function LevelBar({ session, isOpen }: LevelBarProps) {
  const [level, setLevel] = useState(LOWEST_DBFS);
  useEffect(
    () => session.onReading(({ levelDbfs }) => setLevel(Math.max(LOWEST_DBFS, levelDbfs))),
    [session],
  );
  const shown = isOpen ? level : LOWEST_DBFS;
  return (
    <svg
      className="level-bar"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={isOpen ? `Level now ${dbfsWords(shown)}` : "Level: the microphone is closed"}
    >
      <rect className="way" width={WIDTH} height={HEIGHT} />
      <rect className="now" width={placeOf(shown)} height={HEIGHT} />
      <line className="enough" x1={placeOf(ENOUGH_DBFS)} x2={placeOf(ENOUGH_DBFS)} y1={0} y2={HEIGHT} />
    </svg>
  );
}
