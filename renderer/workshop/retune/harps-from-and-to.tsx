import { harpName } from "../../../core/instrument/harp.ts";
import type { Layout } from "../../../core/instrument/layout.ts";
import { LEAST_PASSES } from "../../../core/workshop/retune/passes.ts";
import { LIMIT_BOUNDS } from "../../../core/workshop/retune/reed-work.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import { ListChoice, NumberChoice, RadioChoice } from "../../ui/choice.tsx";
import { HarpChoice } from "../../ui/harp-choice.tsx";
import { useWriting } from "../../ui/writing.ts";
import { A4_BOUNDS, type RetuneView } from "./retune-view.ts";

interface HarpsFromAndToProps {
  readonly owned: readonly OwnedHarp[];
  readonly own: readonly Layout[];
  readonly a4Hz: number;
  readonly view: RetuneView;
  readonly onView: (view: RetuneView) => void;
}

const ANOTHER = "another";
const SEMITONES = [1, 2, 3] as const;
/** What fits beside each other on upright paper. */
const PASSES = [LEAST_PASSES, LEAST_PASSES + 1] as const;

/** The harp one has, the harp one wants, and the rules of the plan. */
export function HarpsFromAndTo({ owned, own, a4Hz, view, onView }: HarpsFromAndToProps) {
  const { say } = useWriting();
  const chosen = owned.find(({ id }) => id === view.ownId);
  const named = ({ harp, note }: OwnedHarp) => `${say(harpName(harp))}${note === "" ? "" : ` (${note})`}`;
  return (
    <div className="from-and-to">
      <section aria-labelledby="harp-i-have">
        <h2 id="harp-i-have">The harp I have</h2>
        <div className="harp-choices">
          {owned.length > 0 && (
            <ListChoice
              legend="Of my harps"
              value={chosen?.id ?? ANOTHER}
              options={[...owned.map((one) => [one.id, named(one)] as const), [ANOTHER, "another"] as const]}
              onChange={(id) => onView({ ...view, ownId: id === ANOTHER ? null : id })}
            />
          )}
          {chosen === undefined && (
            <HarpChoice chosen={view.other} own={own} onChange={(other) => onView({ ...view, other })} />
          )}
        </div>
      </section>
      <section aria-labelledby="harp-i-want">
        <h2 id="harp-i-want">The harp I want</h2>
        <div className="harp-choices">
          <HarpChoice chosen={view.wanted} own={own} onChange={(wanted) => onView({ ...view, wanted })} />
          <NumberChoice
            legend="A4"
            unit="Hz"
            value={view.wantedA4Hz ?? a4Hz}
            {...A4_BOUNDS}
            step={1}
            onChange={(wantedA4Hz) => onView({ ...view, wantedA4Hz })}
          />
        </div>
      </section>
      <RulesChoice view={view} onView={onView} />
    </div>
  );
}

function RulesChoice({ view, onView }: Pick<HarpsFromAndToProps, "view" | "onView">) {
  const { rules } = view;
  const change = (some: Partial<typeof rules>) => onView({ ...view, rules: { ...rules, ...some } });
  return (
    <details className="rules">
      <summary>More: how far, how near, how many passes</summary>
      <div className="harp-choices">
        <RadioChoice
          legend="Semitones a reed is tuned by at most"
          value={rules.mostSemitones}
          options={SEMITONES.map((count) => [count, String(count)] as const)}
          onChange={(mostSemitones) => change({ mostSemitones })}
        />
        <NumberChoice
          legend="Near enough"
          unit="cents"
          value={rules.toleranceCents}
          {...LIMIT_BOUNDS.toleranceCents}
          step={0.5}
          onChange={(toleranceCents) => change({ toleranceCents })}
        />
        <RadioChoice
          legend="Passes"
          value={rules.passes}
          options={PASSES.map((count) => [count, String(count)] as const)}
          onChange={(passes) => change({ passes })}
        />
      </div>
    </details>
  );
}
