import { TEXT_PERCENTS } from "../store/settings-store.ts";
import { RadioChoice } from "../ui/choice.tsx";
import { Group, type GroupProps } from "./group.tsx";

/** Paper and size of text. */
export function LookGroup({ settings, onChange }: GroupProps) {
  return (
    <Group title="Look" fields={["look", "textPercent"]} settings={settings} onChange={onChange}>
      <RadioChoice
        legend="Paper"
        value={settings.look}
        options={[
          ["system", "as the system has it"],
          ["light", "light"],
          ["dark", "dark"],
        ]}
        onChange={(look) => onChange("Paper", { look })}
      />
      <RadioChoice
        legend="Size of text"
        value={settings.textPercent}
        options={TEXT_PERCENTS.map((percent) => [percent, `${percent} %`] as const)}
        onChange={(textPercent) => onChange("Size of text", { textPercent })}
      />
    </Group>
  );
}
