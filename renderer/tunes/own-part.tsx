import { useEffect, useRef, useState } from "react";
import { type Harp, harpName } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import type { HarpsToOwn } from "../../core/path/harps-to-own.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";
import type { ImportProgress, TuneWork } from "./tune-work.ts";

interface OwnPartProps {
  /** How many tunes are found. */
  readonly count: number;
  /** Their texts. */
  readonly onTexts: () => Promise<readonly string[]>;
  readonly layout: Layout;
  readonly owned: readonly Harp[];
  readonly abilities: Abilities;
  readonly work: TuneWork;
}

type State =
  | { readonly kind: "asked" }
  | { readonly kind: "working"; readonly progress: ImportProgress | null }
  | { readonly kind: "found"; readonly harps: HarpsToOwn; readonly tunes: number }
  | { readonly kind: "trouble"; readonly words: string };

/** Which harps to own for the tunes that are found. */
export function OwnPart({ count, onTexts, layout, owned, abilities, work }: OwnPartProps) {
  const [which, setWhich] = useState<"this layout" | "every layout">("this layout");
  const [bentPercent, setBentPercent] = useState(100);
  const [state, setState] = useState<State>({ kind: "asked" });
  const stop = useRef<AbortController | null>(null);
  useEffect(() => () => stop.current?.abort(), []);
  const find = async () => {
    stop.current?.abort();
    const mine = new AbortController();
    stop.current = mine;
    setState({ kind: "working", progress: null });
    try {
      const wish = {
        texts: await onTexts(),
        harps: harpsToTry({ layouts: which === "this layout" ? [layout] : STOCK_LAYOUTS }),
        owned,
        abilities,
        mostBent: bentPercent / 100,
      };
      const found = await work.own(wish, (progress) => setState({ kind: "working", progress }), mine.signal);
      setState({ kind: "found", ...found });
    } catch (error) {
      if (mine.signal.aborted) setState({ kind: "asked" });
      else setState({ kind: "trouble", words: error instanceof Error ? error.message : String(error) });
    }
  };
  return (
    <details className="own">
      <summary>Which harps play these {count} tunes?</summary>
      <div className="tune-ways">
        <RadioChoice
          legend="Harps of"
          value={which}
          options={[
            ["this layout", layout.name],
            ["every layout", "every layout"],
          ]}
          onChange={setWhich}
        />
        <NumberChoice
          legend="Notes bent at most"
          unit="% of a tune"
          value={bentPercent}
          low={0}
          high={100}
          step={5}
          onChange={setBentPercent}
        />
        <button type="button" disabled={state.kind === "working" || count === 0} onClick={() => void find()}>
          Find them
        </button>
      </div>
      {state.kind === "working" && (
        <p role="status">
          {state.progress === null ? "Reading the tunes …" : `${state.progress.done} of ${state.progress.of}`}{" "}
          <progress
            value={state.progress?.done}
            max={state.progress?.of ?? 1}
            aria-label="Looking for harps"
          />{" "}
          <button type="button" onClick={() => stop.current?.abort()}>
            Stop
          </button>
        </p>
      )}
      {state.kind === "trouble" && (
        <p className="notice" role="alert">
          They could not be found: {state.words}.
        </p>
      )}
      {state.kind === "found" && <Found harps={state.harps} tunes={state.tunes} />}
    </details>
  );
}

function Found({ harps, tunes }: { readonly harps: HarpsToOwn; readonly tunes: number }) {
  const { say } = useWriting();
  const { alreadyPlayed, unplayable, smallest, provedSmallest, oneByOne } = harps;
  const playable = tunes - unplayable.length;
  return (
    <>
      <p>
        {alreadyPlayed.length > 0 ? `Your own play ${alreadyPlayed.length}. ` : ""}
        {smallest.length === 0
          ? "No further harp is needed."
          : `${provedSmallest ? "At least" : "Perhaps"} ${smallest.length} ${smallest.length === 1 ? "harp plays" : "harps play"} ${playable} of ${tunes}: ${smallest.map((harp) => say(harpName(harp))).join(", ")}.`}
        {unplayable.length > 0
          ? ` ${unplayable.length} ${unplayable.length === 1 ? "is" : "are"} beyond any of them.`
          : ""}
      </p>
      {oneByOne.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">One after another</th>
              <th scope="col">Adds</th>
              <th scope="col">Tunes then</th>
            </tr>
          </thead>
          <tbody>
            {oneByOne.map(({ harp, adds, tunes: then }) => (
              <tr key={`${harp.layout.id} ${harp.keyNote}`}>
                <td>{say(harpName(harp))}</td>
                <td>{adds}</td>
                <td>{then}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}
