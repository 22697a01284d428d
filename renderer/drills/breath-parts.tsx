import { tab } from "../../core/instrument/tab.ts";
import { ListChoice, NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { TextChoice } from "../ui/text-choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { useActions } from "./bend-parts.tsx";
import { type PartProps, part } from "./part.ts";
import { readRounds } from "./spec-of-choice.ts";

function ActionList(props: PartProps & { readonly legend: string; readonly field: "first" | "second" }) {
  const { choice, shelf, legend, field, onChange } = props;
  const writing = useWriting();
  const tabs = useActions(choice, shelf).map((action) => tab(action));
  const value = choice[field];
  const gone = tabs.includes(value) ? [] : [[value, `${writing.tab(value)}, not on this harp`] as const];
  return (
    <ListChoice
      legend={legend}
      value={value}
      options={[...tabs.map((one) => [one, writing.tab(one)] as const), ...gone]}
      onChange={(chosen) => onChange({ [field]: chosen })}
    />
  );
}

const FirstAction = (props: PartProps) => <ActionList {...props} legend="From" field="first" />;
const SecondAction = (props: PartProps) => <ActionList {...props} legend="To and back" field="second" />;

function Rounds({ choice, onChange }: PartProps) {
  return (
    <TextChoice
      legend="Rounds of so many to the beat"
      value={choice.rounds}
      most={20}
      trouble={readRounds(choice.rounds) === null ? "rising, of 1 2 3 4 6" : null}
      onChange={(rounds) => onChange({ rounds })}
    />
  );
}

function RoundBeats({ choice, onChange }: PartProps) {
  return (
    <NumberChoice
      legend="Each round"
      unit="beats"
      value={choice.roundBeats}
      low={1}
      high={64}
      step={1}
      onChange={(roundBeats) => onChange({ roundBeats })}
    />
  );
}

function Jump({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Holes to jump"
      value={choice.jump}
      options={([1, 2, 3, 4] as const).map((n) => [n, String(n)] as const)}
      onChange={(jump) => onChange({ jump })}
    />
  );
}

function JumpBreath({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Breath"
      value={choice.jumpBreath}
      options={[
        ["blow", "out"],
        ["draw", "in"],
        ["alternate", "out and in"],
      ]}
      onChange={(jumpBreath) => onChange({ jumpBreath })}
    />
  );
}

function RunBreath({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Breath"
      value={choice.runBreath}
      options={[
        ["longest", "whichever runs longer"],
        ["blow", "out"],
        ["draw", "in"],
      ]}
      onChange={(runBreath) => onChange({ runBreath })}
    />
  );
}

export const FIRST_ACTION = part(FirstAction, "first");
export const SECOND_ACTION = part(SecondAction, "second");
export const ROUNDS = part(Rounds, "rounds");
export const ROUND_BEATS = part(RoundBeats, "roundBeats");
export const JUMP = part(Jump, "jump");
export const JUMP_BREATH = part(JumpBreath, "jumpBreath");
export const RUN_BREATH = part(RunBreath, "runBreath");
