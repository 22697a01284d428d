import { useMemo } from "react";
import { type ReedAction, reedActions, type Technique } from "../../core/instrument/reed-actions.ts";
import { ListChoice, NumberChoice, RadioChoice } from "../ui/choice.tsx";
import type { DrillChoice } from "./drill-choice.ts";
import { type PartProps, part } from "./part.ts";
import { harpOfChoice, type Shelf } from "./shelf.ts";
import { abilitiesOf, HOLD_BEATS } from "./spec-of-choice.ts";

/** Everything the harp of a choice gives its player. */
export function useActions(choice: DrillChoice, shelf: Shelf): readonly ReedAction[] {
  return useMemo(() => {
    const harp = harpOfChoice(choice, 440, shelf);
    return harp === null ? [] : reedActions(harp.layout, abilitiesOf(choice)).map(({ action }) => action);
  }, [choice, shelf]);
}

function BendFigure({ choice, onChange }: PartProps) {
  return (
    <ListChoice
      legend="Do what"
      value={choice.bendFigure}
      options={[
        ["hold", "reach it and hold"],
        ["from-above", "plain, then bent"],
        ["match", "match the plain note"],
        ["ladder", "step by step"],
      ]}
      onChange={(bendFigure) => onChange({ bendFigure, holdBeats: HOLD_BEATS[bendFigure] })}
    />
  );
}

const TECHNIQUES = ["bend", "overblow", "overdraw"] as const satisfies readonly Technique[];

/** Only what this harp and player have, and what was chosen before. */
function TechniqueChoice({ choice, shelf, onChange }: PartProps) {
  const actions = useActions(choice, shelf);
  const there = TECHNIQUES.filter(
    (one) => one === choice.technique || actions.some((action) => action.technique === one),
  );
  if (there.length === 1) return null;
  return (
    <RadioChoice
      legend="Which"
      value={choice.technique}
      options={there.map((one) => [one, one] as const)}
      onChange={(technique) => onChange({ technique, bendHole: 0, bendBreath: "either", bendDepth: 0 })}
    />
  );
}

/** Of the technique chosen, the values some choice leaves open; the one chosen before stays to be seen. */
function useOpen<T>(props: PartProps, of: (action: ReedAction) => T, chosen: T, none: T): readonly T[] {
  const { choice, shelf } = props;
  const actions = useActions(choice, shelf).filter((action) => action.technique === choice.technique);
  return [...new Set([...actions.map(of), chosen])].filter((value) => value !== none);
}

function HoleChoice(props: PartProps) {
  const { choice, onChange } = props;
  const holes = useOpen(props, (action) => action.hole, choice.bendHole, 0).toSorted((a, b) => a - b);
  return (
    <ListChoice
      legend="Hole"
      value={choice.bendHole}
      options={[[0, "any"], ...holes.map((hole) => [hole, String(hole)] as const)]}
      onChange={(bendHole) => onChange({ bendHole })}
    />
  );
}

function DepthChoice(props: PartProps) {
  const { choice, onChange } = props;
  const depths = useOpen(props, (action): number => action.bentSemitones, choice.bendDepth, 0);
  if (choice.technique !== "bend") return null;
  const inOrder = depths.toSorted((a, b) => a - b);
  return (
    <ListChoice
      legend="How deep"
      value={choice.bendDepth}
      options={[
        [0, "any"],
        ...inOrder.map((n) => [n, `${n} ${n === 1 ? "semitone" : "semitones"}`] as const),
      ]}
      onChange={(bendDepth) => onChange({ bendDepth })}
    />
  );
}

function BendBreath({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Breath"
      value={choice.bendBreath}
      options={[
        ["either", "either"],
        ["blow", "out"],
        ["draw", "in"],
      ]}
      onChange={(bendBreath) => onChange({ bendBreath })}
    />
  );
}

function Hold({ choice, onChange }: PartProps) {
  return (
    <NumberChoice
      legend="Each note"
      unit="beats"
      value={choice.holdBeats}
      low={0.5}
      high={16}
      step={0.5}
      onChange={(holdBeats) => onChange({ holdBeats })}
    />
  );
}

function TargetShown({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Pitch while playing"
      value={choice.targetShown ? "shown" : "hidden"}
      options={[
        ["shown", "shown"],
        ["hidden", "by ear"],
      ]}
      onChange={(shown) => onChange({ targetShown: shown === "shown" })}
    />
  );
}

export const BEND_FIGURE = part(BendFigure, "bendFigure");
export const TECHNIQUE = part(TechniqueChoice, "technique");
export const BEND_HOLE = part(HoleChoice, "bendHole");
export const BEND_DEPTH = part(DepthChoice, "bendDepth");
export const BEND_BREATH = part(BendBreath, "bendBreath");
export const HOLD = part(Hold, "holdBeats");
export const TARGET_SHOWN = part(TargetShown, "targetShown");
