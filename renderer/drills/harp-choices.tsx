import { useMemo } from "react";
import { harpName, KEYS_BY_REGISTER, type Register, registersOfKey } from "../../core/instrument/harp.ts";
import { POSITIONS, positionHomeName, positionName } from "../../core/instrument/positions.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { TUNING_SCHEMES } from "../../core/pitch/tuning-schemes.ts";
import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import { TextChoice } from "../ui/text-choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { type DrillChoice, SET_OF_DEGREES } from "./drill-choice.ts";
import { modeOfChoice } from "./mode-of-choice.ts";
import { type PartProps, part } from "./part.ts";
import { harpOfChoice, layoutsOf, ownedHarpOf, registerOfChoice, type Shelf, withPosition } from "./shelf.ts";
import { readSome } from "./spec-of-choice.ts";

interface HarpChoicesProps {
  readonly choice: DrillChoice;
  readonly shelf: Shelf;
  readonly onChange: (choice: DrillChoice) => void;
}

/** The harp in hand, the position and mode, and what the player can do on it. */
export function HarpChoices({ choice, shelf, onChange }: HarpChoicesProps) {
  const writing = useWriting();
  const homes = useMemo(() => {
    const harp = harpOfChoice(choice, 440, shelf);
    return POSITIONS.map((position) => (harp === null ? "" : positionHomeName(harp, position)));
  }, [choice, shelf]);
  const change = (part: Partial<DrillChoice>) => onChange({ ...choice, ...part });
  return (
    <>
      <HarpChoice choice={choice} shelf={shelf} onChange={onChange} />
      {ownedHarpOf(choice, shelf) === null && (
        <ListChoice
          legend="Layout"
          value={choice.layout}
          options={layoutsOf(shelf).map((layout) => [layout.id, layout.name] as const)}
          onChange={(layout) => onChange(withPosition({ ...choice, layout }, choice.position, shelf))}
        />
      )}
      <ListChoice
        legend="Position"
        value={choice.position}
        options={POSITIONS.map(
          (n) => [n, `${positionName(n)}, home ${writing.note(homes[n - 1] ?? "")}`] as const,
        )}
        onChange={(position) => onChange(withPosition(choice, position, shelf))}
      />
      <ListChoice
        legend="Mode"
        value={choice.mode}
        options={[...MODE_NAMES.map((mode) => [mode, mode] as const), [SET_OF_DEGREES, "a set of degrees"]]}
        onChange={(mode) => change({ mode })}
      />
      {choice.mode === SET_OF_DEGREES && (
        <TextChoice
          legend="Degrees"
          value={choice.degrees}
          most={80}
          trouble={modeOfChoice(choice).kind === "mode" ? null : "such as 1 2 b3 4 5 6 b7"}
          onChange={(degrees) => change({ degrees })}
        />
      )}
      <RadioChoice
        legend="I can play"
        value={choice.overbends ? "overbends" : choice.bends ? "bends" : "plain"}
        options={[
          ["plain", "plain notes"],
          ["bends", "bends too"],
          ["overbends", "bends and overblows"],
        ]}
        onChange={(able) => change({ bends: able !== "plain", overbends: able === "overbends" })}
      />
      {choice.overbends && (
        <HolesChoice
          legend="Overblows in holes"
          value={choice.overbendHoles}
          onChange={(overbendHoles) => change({ overbendHoles })}
        />
      )}
    </>
  );
}

interface HolesChoiceProps {
  readonly legend: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

/** Few players can do it everywhere: in which holes, by number. */
function HolesChoice({ legend, value, onChange }: HolesChoiceProps) {
  return (
    <TextChoice
      legend={legend}
      value={value}
      placeholder="all"
      most={40}
      trouble={readSome(value) === null ? "holes by number: 4 6" : null}
      onChange={onChange}
    />
  );
}

const OWN = "own:";

/** The player's own harps first, then a stock harp in every key. */
function HarpChoice({ choice, shelf, onChange }: HarpChoicesProps) {
  const { note, say } = useWriting();
  const own = shelf.harps.map(
    (owned) =>
      [
        `${OWN}${owned.id}`,
        [`My ${say(harpName(owned.harp))}`, owned.note].filter((part) => part !== "").join(", "),
      ] as const,
  );
  return (
    <ListChoice
      legend="Harp"
      value={ownedHarpOf(choice, shelf) === null ? choice.key : `${OWN}${choice.ownHarp}`}
      options={[...own, ...KEYS_BY_REGISTER.map((key) => [key, `${note(key)} harp`] as const)]}
      onChange={(chosen) => {
        const key = KEYS_BY_REGISTER.find((one) => one === chosen);
        const next =
          key === undefined
            ? { ...choice, ownHarp: chosen.slice(OWN.length) }
            : { ...choice, key, ownHarp: "" };
        onChange(withPosition(next, choice.position, shelf));
      }}
    />
  );
}

const REGISTER_WORDS: Readonly<Record<Register, string>> = { low: "low", usual: "usual", high: "high" };

function RegisterChoice({ choice, shelf, onChange }: PartProps) {
  const registers = registersOfKey(choice.key);
  if (ownedHarpOf(choice, shelf) !== null || registers.length === 1) return null;
  return (
    <RadioChoice
      legend="Register"
      value={registerOfChoice(choice)}
      options={registers.map((register) => [register, REGISTER_WORDS[register]] as const)}
      onChange={(register) => onChange({ register })}
    />
  );
}

function TemperamentChoice({ choice, shelf, onChange }: PartProps) {
  if (ownedHarpOf(choice, shelf) !== null) return null;
  return (
    <ListChoice
      legend="Temperament"
      value={choice.temperament}
      options={[["equal", "equal"], ...TUNING_SCHEMES.map(({ id, name }) => [id, name] as const)]}
      onChange={(temperament) => onChange({ temperament })}
    />
  );
}

function BendHoles({ choice, onChange }: PartProps) {
  if (!choice.bends) return null;
  return (
    <HolesChoice
      legend="Bends in holes"
      value={choice.bendHoles}
      onChange={(bendHoles) => onChange({ bendHoles })}
    />
  );
}

/** What else there is to say of a harp and its player. */
export const MORE_OF_HARP = [
  part(RegisterChoice, "register"),
  part(TemperamentChoice, "temperament"),
  part(BendHoles, "bendHoles"),
] as const;
