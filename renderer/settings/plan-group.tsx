import { LEAST_MINUTES, MOST_MINUTES } from "../../core/progress/plan/plan.ts";
import { NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { Group, type GroupProps } from "./group.tsx";

/** What a day's plan is made for. */
export function PlanGroup({ settings, onChange }: GroupProps) {
  return (
    <Group
      title="Plan of the day"
      fields={["planMinutes", "planTurns"]}
      settings={settings}
      onChange={onChange}
    >
      <NumberChoice
        legend="Time a day"
        unit="minutes"
        value={settings.planMinutes}
        low={LEAST_MINUTES}
        high={MOST_MINUTES}
        step={5}
        onChange={(minutes) => onChange("Time a day", { planMinutes: Math.round(minutes) })}
      />
      <RadioChoice
        legend="What you know"
        value={settings.planTurns}
        options={[
          ["mixed", "mixed, in turn"],
          ["blocked", "one after the other"],
        ]}
        onChange={(planTurns) => onChange("What you know", { planTurns })}
      />
      <p className="soft">What is new always comes by itself.</p>
    </Group>
  );
}
