import { ListChoice, RadioChoice } from "../ui/choice.tsx";

/** How a take begins and what comes after its marks. */
export interface HandsFree {
  readonly begin: "key" | "held note";
  /** 0 for no next round by itself. */
  readonly againAfterSeconds: number;
}

interface HandsFreeChoiceProps {
  readonly value: HandsFree;
  readonly disabled: boolean;
  readonly onChange: (value: HandsFree) => void;
}

const PAUSES: readonly number[] = [0, 4, 8, 15, 30];

/** For players with both hands full: begin by holding a note, go on by itself. */
export function HandsFreeChoice({ value, disabled, onChange }: HandsFreeChoiceProps) {
  const pauses = PAUSES.includes(value.againAfterSeconds) ? PAUSES : [...PAUSES, value.againAfterSeconds];
  return (
    <fieldset disabled={disabled} className="row hands-free">
      <legend className="only-read-aloud">Hands free</legend>
      <RadioChoice
        legend="A take begins"
        value={value.begin}
        options={[
          ["key", "by key or pedal"],
          ["held note", "also with a note held"],
        ]}
        onChange={(begin) => onChange({ ...value, begin })}
      />
      <ListChoice
        legend="The next round"
        value={value.againAfterSeconds}
        options={pauses.map((pause) => [pause, pause === 0 ? "by key or pedal" : `after ${pause} s`])}
        onChange={(againAfterSeconds) => onChange({ ...value, againAfterSeconds })}
      />
    </fieldset>
  );
}

/** What is done without hands; empty where everything goes by key. */
export function handsFreeWords({ begin, againAfterSeconds }: HandsFree): string {
  return [
    begin === "key" ? null : "begins with a note held",
    againAfterSeconds === 0 ? null : `again after ${againAfterSeconds} s`,
  ]
    .filter((words) => words !== null)
    .join(", ");
}
