import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import type { DrillChoice } from "./drill-choice.ts";
import { degreeInMode, degreesOfChoice, modeOfChoice } from "./mode-of-choice.ts";
import { type PartProps, part } from "./part.ts";

function OctavesChoice({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Range"
      value={choice.octaves}
      options={[
        [1, "one octave"],
        [2, "two"],
        ["plain range", "all plain notes"],
      ]}
      onChange={(octaves) => onChange({ octaves })}
    />
  );
}

function DirectionChoice({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Direction"
      value={choice.direction}
      options={[
        ["up", "up"],
        ["down", "down"],
        ["both", "both"],
      ]}
      onChange={(direction) => onChange({ direction })}
    />
  );
}

function StartChoice({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Begin on"
      value={choice.start}
      options={[
        ["easiest", "easiest note"],
        ["lowest", "lowest"],
      ]}
      onChange={(start) => onChange({ start })}
    />
  );
}

/** A list of the mode's own degrees; while a set is half typed there are none to choose from. */
export function DegreeList(props: {
  readonly legend: string;
  readonly choice: DrillChoice;
  readonly value: string;
  readonly onChange: (degree: string) => void;
}) {
  const mode = modeOfChoice(props.choice);
  if (mode.kind === "unreadable") return null;
  return (
    <ListChoice
      legend={props.legend}
      value={degreeInMode(mode.mode, props.value)}
      options={degreesOfChoice(props.choice).map(({ name }) => [name, name] as const)}
      onChange={props.onChange}
    />
  );
}

function FromDegree({ choice, onChange }: PartProps) {
  return (
    <DegreeList
      legend="From degree"
      choice={choice}
      value={choice.fromDegree}
      onChange={(fromDegree) => onChange({ fromDegree })}
    />
  );
}

export const OCTAVES = part(OctavesChoice, "octaves");
export const DIRECTION = part(DirectionChoice, "direction");
export const START = part(StartChoice, "start");
export const FROM_DEGREE = part(FromDegree, "fromDegree");
