import { useMemo, useState } from "react";
import type { Harp } from "../../../core/instrument/harp.ts";
import type { Layout } from "../../../core/instrument/layout.ts";
import { harpsToTry } from "../../../core/path/harps-to-try.ts";
import { wishFaults } from "../../../core/workshop/design/wish-faults.ts";
import { BusyLine } from "../../ui/busy-line.tsx";
import { HarpChoice } from "../../ui/harp-choice.tsx";
import { useWriting } from "../../ui/writing.ts";
import type { DesignAsk } from "./design-messages.ts";
import { type DesignView, wishOfView, withHarp } from "./design-view.ts";
import type { DesignWork } from "./design-work.ts";
import { type FoundActions, FoundPart } from "./found-part.tsx";
import { KeptThings, LimitChoices } from "./limit-choices.tsx";
import { LoosenPart } from "./loosen-part.tsx";
import { loosenedView } from "./loosened-view.ts";
import { ScaleRows } from "./scale-rows.tsx";
import { type DesignTuneList, TuneChoices } from "./tune-choices.tsx";
import { type DesignState, useDesign } from "./use-design.ts";
import "./design.css";

export interface DesignPartProps {
  readonly view: DesignView;
  readonly onView: (view: DesignView) => void;
  /** The player's own layouts and harps. */
  readonly own: readonly Layout[];
  readonly owned: readonly Harp[];
  readonly a4Hz: number;
  readonly work: DesignWork;
  /** Null while the list is read. */
  readonly tunes: DesignTuneList | null;
  /** Texts of all tunes on the list. */
  readonly onTexts: () => Promise<readonly string[]>;
  readonly actions: FoundActions;
}

/** The same question has the same answer. */
const SEED = 1;

/** What is to be playable and what may be changed, and the layouts that do it. */
export function DesignPart(props: DesignPartProps) {
  const { view, onView, own, owned, a4Hz, work, tunes, onTexts, actions } = props;
  const { say } = useWriting();
  const { state, ask, stop } = useDesign(work);
  const [faults, setFaults] = useState<readonly string[]>([]);
  const wish = useMemo(() => wishOfView(view, a4Hz), [view, a4Hz]);
  const look = (next: DesignView) => {
    const asked = wishOfView(next, a4Hz);
    const found =
      asked.scales.length === 0 && !next.withTunes
        ? ["Say what is to be playable: a scale, or the tunes."]
        : wishFaults(asked);
    setFaults(found);
    if (found.length > 0) return;
    const harps = harpsFor(next, asked.harp, owned);
    void ask(async (): Promise<DesignAsk> => {
      const danceWeights = next.withTunes ? next.danceWeights : null;
      return { wish: asked, texts: await onTexts(), danceWeights, harps, seed: SEED };
    });
  };
  return (
    <div className="design">
      <form
        className="design-form"
        onSubmit={(event) => {
          event.preventDefault();
          look(view);
        }}
      >
        <section aria-labelledby="design-begin">
          <h2 id="design-begin">Begin with</h2>
          <div className="begin-with">
            <HarpChoice chosen={view.harp} own={own} onChange={(chosen) => onView(withHarp(view, chosen))} />
          </div>
        </section>
        <section aria-labelledby="design-play">
          <h2 id="design-play">Playable without bends</h2>
          <ScaleRows view={view} onView={onView} />
          <TuneChoices view={view} tunes={tunes} hasOwnHarps={owned.length > 0} onView={onView} />
        </section>
        <section aria-labelledby="design-change">
          <h2 id="design-change">What may change</h2>
          <LimitChoices view={view} harp={wish.harp} onView={onView} />
          <label className="chords-count">
            <input
              type="checkbox"
              checked={view.chordsCount}
              onChange={(event) => onView({ ...view, chordsCount: event.target.checked })}
            />{" "}
            of equally few changes the one with most triads first
          </label>
          <details>
            <summary>What must stay, and triads it must have{tickedOf(view)}</summary>
            <KeptThings view={view} harp={wish.harp} onView={onView} />
          </details>
        </section>
        <p>
          <button type="submit" className="main">
            Look for layouts
          </button>
        </p>
      </form>
      {faults.length > 0 && (
        <div className="notice" role="alert">
          {faults.map((fault) => (
            <p key={fault}>{say(fault)}</p>
          ))}
        </div>
      )}
      <Standing state={state} onStop={stop} />
      {state.kind === "answered" && state.answer.kind === "impossible" && (
        <LoosenPart
          loosen={state.answer.loosen}
          onLoosen={(loosened) => {
            const next = loosenedView(view, loosened.wish);
            onView(next);
            look(next);
          }}
        />
      )}
      {state.kind === "answered" && state.answer.kind === "found" && (
        <FoundPart
          key={JSON.stringify(state.ask.wish)}
          wish={state.ask.wish}
          answer={state.answer}
          actions={actions}
        />
      )}
    </div>
  );
}

function tickedOf({ stays, chords, bends, triads }: DesignView): string {
  const count = stays.length + chords.length + bends.length + triads.length;
  return count === 0 ? "" : ` (${count})`;
}

/** Harps whose keys the tunes may be played on; their layout does not matter. */
function harpsFor(view: DesignView, harp: Harp, owned: readonly Harp[]): readonly Harp[] {
  if (view.keys === "this") return [harp];
  if (view.keys === "mine" && owned.length > 0) return owned;
  return harpsToTry({ layouts: [harp.layout] });
}

function Standing({ state, onStop }: { readonly state: DesignState; readonly onStop: () => void }) {
  switch (state.kind) {
    case "not asked":
      return (
        <p className="soft">
          Layouts that play all of it with the fewest changed reeds will stand here, beside this harp.
        </p>
      );
    case "busy": {
      const { share, best } = state.progress;
      const sofar =
        best === null
          ? ""
          : `, so far ${best.changed} reeds leave ${Math.round(best.notPlain)} notes not plain`;
      return <BusyLine words={`Looking for layouts${sofar}`} share={share} onStop={onStop} />;
    }
    case "stopped":
      return <p role="status">Stopped.</p>;
    case "trouble":
      return (
        <p className="notice" role="alert">
          It could not be worked out: {state.words}
        </p>
      );
    case "answered":
      if (state.answer.kind === "too many ways")
        return (
          <p className="notice" role="alert">
            There are more ways to play this than can be gone through. Let reeds move less, or ask for fewer
            notes.
          </p>
        );
      if (state.answer.kind === "no notes")
        return (
          <p className="notice" role="alert">
            There is no tune that counts: give at least one dance more than 0.
          </p>
        );
      return null;
  }
}
