import { useEffect, useMemo, useState } from "react";
import { type Harp, harpName } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { positionName } from "../../core/instrument/positions.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import type { Fit } from "../../core/path/fit.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import { RadioChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";
import type { OpenTune } from "./tune-view.ts";
import type { TuneWork } from "./tune-work.ts";

interface HarpPartProps {
  readonly open: OpenTune;
  readonly usualLayout: Layout;
  readonly ownedHarps: readonly Harp[];
  readonly abilities: Abilities;
  readonly work: TuneWork;
  readonly onChange: (part: Partial<TuneStudy>) => void;
}

type Which = "my harps" | "this layout" | "every layout";

/** Where the tune lies, harp by harp: the best first. */
export function HarpPart({ open, usualLayout, ownedHarps, abilities, work, onChange }: HarpPartProps) {
  const { say } = useWriting();
  const [which, setWhich] = useState<Which>(ownedHarps.length > 0 ? "my harps" : "this layout");
  const harps = useMemo(() => harpsOf(which, usualLayout, ownedHarps), [which, usualLayout, ownedHarps]);
  const [fits, setFits] = useState<readonly Fit[] | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    setFits(null);
    setTrouble(null);
    work.fits(open.tune, harps, abilities, stop.signal).then(setFits, (error: unknown) => {
      if (!stop.signal.aborted) setTrouble(error instanceof Error ? error.message : String(error));
    });
    return () => stop.abort();
  }, [work, open.tune, harps, abilities]);
  const options = (["my harps", "this layout", "every layout"] as const).filter(
    (one) => one !== "my harps" || ownedHarps.length > 0,
  );
  return (
    <section className="no-print" aria-label="Harps">
      <h2>On which harp</h2>
      <RadioChoice
        legend="Look among"
        value={which}
        options={options.map((one) => [one, one] as const)}
        onChange={setWhich}
      />
      {trouble !== null && (
        <p className="notice" role="alert">
          The harps could not be tried: {trouble}. Open the tune again.
        </p>
      )}
      {fits === null ? (
        trouble === null && <p role="status">Trying harps …</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Harp</th>
              <th scope="col">Position</th>
              <th scope="col">Octave</th>
              <th scope="col">Notes</th>
              <th scope="col">Effort</th>
            </tr>
          </thead>
          <tbody>
            {fits.map((fit) => (
              <tr key={`${fit.harp.layout.id} ${fit.harp.keyNote} ${fit.shift}`}>
                <td>
                  <button
                    type="button"
                    className="open"
                    onClick={() => onChange({ harp: fit.harp, octaves: fit.shift / 12, pins: [] })}
                  >
                    {say(harpName(fit.harp))}
                  </button>
                </td>
                <td>{fit.position === null ? "" : positionName(fit.position)}</td>
                <td>{fit.shift === 0 ? "as written" : fit.shift > 0 ? "up" : "down"}</td>
                <td>{notesWords(fit)}</td>
                <td>
                  {fit.exact ? "" : "≥ "}
                  {fit.cost.toFixed(0)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function harpsOf(which: Which, usual: Layout, owned: readonly Harp[]): readonly Harp[] {
  if (which === "my harps") return owned;
  const layouts = which === "this layout" ? [usual] : STOCK_LAYOUTS;
  return harpsToTry({ layouts });
}

function notesWords({ bent, overblown, missing }: Fit): string {
  const parts = [
    missing > 0 ? `${missing} missing` : "",
    bent > 0 ? `${bent} bent` : "",
    overblown > 0 ? `${overblown} overblown` : "",
  ].filter((part) => part !== "");
  return parts.length === 0 ? "all plain" : parts.join(", ");
}
