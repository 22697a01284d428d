import type { Harp } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { naturalModeOf } from "../../core/instrument/position-report.ts";
import { POSITIONS, positionHomeName, positionName } from "../../core/instrument/positions.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import type { ChosenHarp } from "../ui/chosen-harp.ts";
import { HarpChoice } from "../ui/harp-choice.tsx";
import { useWriting, type Writing } from "../ui/writing.ts";
import { type InstrumentView, inPosition } from "./instrument-view.ts";

interface ViewChoicesProps {
  readonly view: InstrumentView;
  readonly harp: Harp;
  readonly own: readonly Layout[];
  readonly onChange: (view: InstrumentView) => void;
  readonly onHarp: (chosen: ChosenHarp) => void;
}

/** What stands beside the harp: which harp, in which position and mode, and what the player can do. */
export function ViewChoices({ view, harp, own, onChange, onHarp }: ViewChoicesProps) {
  const writing = useWriting();
  return (
    <div className="beside">
      <HarpChoice chosen={{ ...view.chosen, layout: harp.layout }} own={own} onChange={onHarp} />
      <ListChoice
        legend="Position"
        value={view.position}
        options={POSITIONS.map((position) => [position, positionWords(harp, position, writing)] as const)}
        onChange={(position) => onChange(inPosition(view, harp, position))}
      />
      <ListChoice
        legend="Mode"
        value={view.mode}
        options={MODE_NAMES.map((mode) => [mode, mode] as const)}
        onChange={(mode) => onChange({ ...view, mode })}
      />
      <RadioChoice
        legend="I can play"
        value={view.skill}
        options={[
          ["plain", "plain notes"],
          ["bends", "and bends"],
          ["everything", "and overblows"],
        ]}
        onChange={(skill) => onChange({ ...view, skill })}
      />
    </div>
  );
}

function positionWords(harp: Harp, position: number, { note }: Writing): string {
  const natural = naturalModeOf(harp, position);
  const home = `${positionName(position)}: ${note(positionHomeName(harp, position))}`;
  return natural === null ? home : `${home} ${natural}`;
}
