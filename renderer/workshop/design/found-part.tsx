import { useState } from "react";
import type { Layout } from "../../../core/instrument/layout.ts";
import { degreesOn } from "../../../core/instrument/scale-report.ts";
import { STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { modeDegrees, spellingOf } from "../../../core/pitch/modes.ts";
import { pitchClass } from "../../../core/pitch/note-names.ts";
import type { DesignWish } from "../../../core/workshop/design/wish.ts";
import { ListChoice } from "../../ui/choice.tsx";
import { useWriting } from "../../ui/writing.ts";
import { CatalogueTable } from "./catalogue-table.tsx";
import type { DesignAnswer, DesignRow } from "./design-messages.ts";
import { LineTable } from "./line-table.tsx";
import { TwoHarps } from "./two-harps.tsx";

/** What can be done with a layout found; each keeps it among the player's own first. */
export interface FoundActions {
  readonly isKept: (layout: Layout) => boolean;
  readonly onKeep: (layout: Layout) => void;
  /** Sounds the first scale asked for. */
  readonly onHear: (layout: Layout, wish: DesignWish) => void;
  readonly onPractise: (layout: Layout, wish: DesignWish) => void;
  readonly onFit: (layout: Layout, wish: DesignWish) => void;
  readonly onRetune: (layout: Layout, wish: DesignWish) => void;
}

interface FoundPartProps {
  readonly wish: DesignWish;
  readonly answer: Extract<DesignAnswer, { kind: "found" }>;
  readonly actions: FoundActions;
}

/** The layouts found, one of them open beside the harp begun with. */
export function FoundPart({ wish, answer, actions }: FoundPartProps) {
  const { say } = useWriting();
  const [chosen, setChosen] = useState<DesignRow | null>(null);
  const [beside, setBeside] = useState("");
  const row = chosen ?? firstToShow(answer);
  if (row === null) return <p role="status">Nothing better than this harp was found within these limits.</p>;
  const { harp } = wish;
  const scale = scaleOf(wish);
  const { layout } = row;
  const others = STOCK_LAYOUTS.filter(({ id }) => id !== harp.layout.id);
  const from = { ...harp, layout: others.find(({ id }) => id === beside) ?? harp.layout };
  const isKept = actions.isKept(layout);
  return (
    <section className="found" aria-labelledby="layouts-found">
      <h2 id="layouts-found">Layouts found</h2>
      <p role="status">{inOneSentence(answer)}</p>
      <LineTable answer={answer} chosen={row} onChoose={setChosen} />
      <h2>{say(layout.name)}</h2>
      <p className="row">
        <button type="button" disabled={isKept} onClick={() => actions.onKeep(layout)}>
          {isKept ? "Saved among my layouts" : "Save as a layout of mine"}
        </button>
        <button type="button" onClick={() => actions.onHear(layout, wish)}>
          Hear its scale
        </button>
        <button type="button" onClick={() => actions.onPractise(layout, wish)}>
          Practise it
        </button>
        <button type="button" onClick={() => actions.onFit(layout, wish)}>
          See how my tunes lie on it
        </button>
        <button type="button" onClick={() => actions.onRetune(layout, wish)}>
          Plan the retuning
        </button>
      </p>
      <ListChoice
        legend="Beside"
        value={beside}
        options={[
          ["", `${harp.layout.name}, as it is`] as const,
          ...others.map((one) => [one.id, one.name] as const),
        ]}
        onChange={setBeside}
      />
      <TwoHarps from={from} to={{ ...harp, layout }} scale={scale} isStart={beside === ""} />
      <CatalogueTable wish={wish} spelling={scale.spelling} tunes={answer.catalogue} />
    </section>
  );
}

/** The first, with the fewest changes; where tunes count the one that leaves fewest notes not plain. */
function firstToShow({ rows }: Extract<DesignAnswer, { kind: "found" }>): DesignRow | null {
  const left = (row: DesignRow) => row.tunes?.notPlain ?? 0;
  const [first = null, ...others] = rows;
  return others.reduce((best, next) => (best !== null && left(next) < left(best) ? next : best), first);
}

function inOneSentence({ rows, notes, tunes, counting }: Extract<DesignAnswer, { kind: "found" }>): string {
  const [first] = rows;
  if (first === undefined) return "";
  if (notes > 0)
    return `For ${counting} of ${tunes} tunes: each layout of the line is better than every other in reeds, semitones, bent or missing notes, or effort. The line is searched for, not proved.`;
  const proved = first.proved === false ? "at least some" : "the fewest there can be";
  return first.changed === 0
    ? "The harp plays all of it as it is."
    : `${first.changed} ${first.changed === 1 ? "reed is" : "reeds are"} changed: ${proved}.`;
}

/** Home note and mode of the first scale, or of the harp's key. */
function scaleOf({ harp, scales: [first] }: DesignWish) {
  const homeName = first?.homeName ?? harp.key;
  const mode = first?.mode ?? "major";
  const home = pitchClass(first?.home ?? harp.keyNote);
  return { ...degreesOn(home, modeDegrees(mode), homeName), spelling: spellingOf(homeName, mode) };
}
