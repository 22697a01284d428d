import { useRef, useState } from "react";
import { BREATHS, type Breath, type Layout, reedAt } from "../../core/instrument/layout.ts";
import type { HoleCents, Temperament } from "../../core/instrument/temperament.ts";
import { readScala } from "../../core/pitch/scala-scale.ts";
import { LIMITS, whyTooLarge } from "../../core/reading/limits.ts";
import { cents } from "../../core/units.ts";
import { NumberChoice } from "../ui/choice.tsx";

interface OwnTuningProps {
  readonly layout: Layout;
  readonly temperament: Temperament;
  readonly onChange: (temperament: Temperament) => void;
}

const MOST_CENTS = 100;

/** A tuning the list does not have: a Scala file, or the player's own cents for each reed. */
export function OwnTuning({ layout, temperament, onChange }: OwnTuningProps) {
  const file = useRef<HTMLInputElement>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const open = async (chosen: File) => {
    const read = await scaleOfFile(chosen);
    if (read.kind === "unreadable") return setTrouble(`${chosen.name}: ${read.reason}.`);
    setTrouble(null);
    onChange({ kind: "scale", name: read.scale.name || chosen.name, steps: read.scale.steps });
  };
  return (
    <>
      <p className="row">
        <button type="button" onClick={() => file.current?.click()}>
          Tuning from a Scala file
        </button>
        {temperament.kind !== "reeds" && (
          <button type="button" onClick={() => onChange(ownCentsFor(layout))}>
            My own cents for each reed
          </button>
        )}
        <input
          ref={file}
          type="file"
          hidden
          accept=".scl"
          aria-label="Scala file"
          onChange={(event) => {
            const chosen = event.target.files?.[0];
            event.target.value = "";
            if (chosen !== undefined) void open(chosen);
          }}
        />
      </p>
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble}
        </p>
      )}
      {temperament.kind === "reeds" && (
        <ReedCents layout={layout} temperament={temperament} onChange={onChange} />
      )}
    </>
  );
}

async function scaleOfFile(file: File): Promise<ReturnType<typeof readScala>> {
  const reason = whyTooLarge(file.size, LIMITS.smallFileBytes);
  if (reason !== null) return { kind: "unreadable", reason };
  const text = await file.text().catch(() => null);
  return text === null
    ? { kind: "unreadable", reason: "it could not be read from the disk; choose it again" }
    : readScala(text);
}

function ownCentsFor(layout: Layout): Temperament {
  return { kind: "reeds", name: "my own cents", holes: layout.holes.map(() => ({ blow: null, draw: null })) };
}

interface ReedCentsProps extends OwnTuningProps {
  readonly temperament: Extract<Temperament, { kind: "reeds" }>;
}

/** One number a reed: how far it lies from equal temperament, sharp positive. */
function ReedCents({ layout, temperament, onChange }: ReedCentsProps) {
  const set = (hole: number, breath: Breath, value: number) => {
    const holes = layout.holes.map((_, place): HoleCents => {
      const before = temperament.holes[place] ?? { blow: null, draw: null };
      return place === hole - 1 ? { ...before, [breath]: cents(value) } : before;
    });
    onChange({ ...temperament, holes });
  };
  return BREATHS.map((breath) => (
    <fieldset key={breath} className="reed-cents">
      <legend>{breath}, cents from equal temperament</legend>
      {layout.holes.map((_, place) => {
        const hole = place + 1;
        if (reedAt(layout, hole, breath) === null) return null;
        return (
          <NumberChoice
            key={hole}
            legend={`${hole} ${breath}`}
            unit="cents"
            value={temperament.holes[place]?.[breath] ?? 0}
            low={-MOST_CENTS}
            high={MOST_CENTS}
            step={1}
            onChange={(value) => set(hole, breath, value)}
          />
        );
      })}
    </fieldset>
  ));
}
