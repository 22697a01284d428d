import { useMemo } from "react";
import { KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { positionHomeName, positionName } from "../../core/instrument/positions.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import { type DrillChoice, harpOfChoice, withPosition } from "./drill-choice.ts";

interface HarpChoicesProps {
  readonly choice: DrillChoice;
  readonly onChange: (choice: DrillChoice) => void;
}

const POSITIONS = Array.from({ length: 12 }, (_, n) => n + 1);

/** The harp in hand, the position and mode, and what the player can do on it. */
export function HarpChoices({ choice, onChange }: HarpChoicesProps) {
  const homes = useMemo(() => {
    const harp = harpOfChoice(choice, 440);
    return POSITIONS.map((position) => (harp === null ? "" : positionHomeName(harp, position)));
  }, [choice]);
  return (
    <>
      <ListChoice
        legend="Harp"
        value={choice.key}
        options={KEYS_BY_REGISTER.map((key) => [key, `${key} harp`] as const)}
        onChange={(key) => onChange({ ...choice, key })}
      />
      <ListChoice
        legend="Layout"
        value={choice.layout}
        options={STOCK_LAYOUTS.map((layout) => [layout.id, layout.name] as const)}
        onChange={(layout) => onChange(withPosition({ ...choice, layout }, choice.position))}
      />
      <ListChoice
        legend="Position"
        value={choice.position}
        options={POSITIONS.map((n) => [n, `${positionName(n)}, home ${homes[n - 1] ?? ""}`] as const)}
        onChange={(position) => onChange(withPosition(choice, position))}
      />
      <ListChoice
        legend="Mode"
        value={choice.mode}
        options={MODE_NAMES.map((mode) => [mode, mode] as const)}
        onChange={(mode) => onChange({ ...choice, mode })}
      />
      <RadioChoice
        legend="I can play"
        value={choice.overbends ? "overbends" : choice.bends ? "bends" : "plain"}
        options={[
          ["plain", "plain notes"],
          ["bends", "bends too"],
          ["overbends", "bends and overblows"],
        ]}
        onChange={(able) => onChange({ ...choice, bends: able !== "plain", overbends: able === "overbends" })}
      />
    </>
  );
}
