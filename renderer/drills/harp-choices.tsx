import { useId, useMemo } from "react";
import { harpName, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { POSITIONS, positionHomeName, positionName } from "../../core/instrument/positions.ts";
import { readHoles } from "../../core/instrument/reed-actions.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import type { DrillChoice } from "./drill-choice.ts";
import { harpOfChoice, layoutsOf, ownedHarpOf, type Shelf, withPosition } from "./shelf.ts";

interface HarpChoicesProps {
  readonly choice: DrillChoice;
  readonly shelf: Shelf;
  readonly onChange: (choice: DrillChoice) => void;
}

/** The harp in hand, the position and mode, and what the player can do on it. */
export function HarpChoices({ choice, shelf, onChange }: HarpChoicesProps) {
  const homes = useMemo(() => {
    const harp = harpOfChoice(choice, 440, shelf);
    return POSITIONS.map((position) => (harp === null ? "" : positionHomeName(harp, position)));
  }, [choice, shelf]);
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
        options={POSITIONS.map((n) => [n, `${positionName(n)}, home ${homes[n - 1] ?? ""}`] as const)}
        onChange={(position) => onChange(withPosition(choice, position, shelf))}
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
      {choice.overbends && <OverblowHoles choice={choice} shelf={shelf} onChange={onChange} />}
    </>
  );
}

/** Few players have every overblow: which ones, by hole. */
function OverblowHoles({ choice, onChange }: HarpChoicesProps) {
  const id = useId();
  const readable = choice.overbendHoles.trim() === "" || readHoles(choice.overbendHoles) !== null;
  return (
    <div className="choice">
      <label htmlFor={id}>Overblows in holes</label>
      <input
        id={id}
        type="text"
        placeholder="all"
        value={choice.overbendHoles}
        maxLength={40}
        aria-invalid={!readable}
        aria-describedby={readable ? undefined : `${id}-how`}
        onChange={(event) => onChange({ ...choice, overbendHoles: event.target.value })}
      />
      {!readable && (
        <span id={`${id}-how`} className="soft">
          holes by number: 4 6
        </span>
      )}
    </div>
  );
}

const OWN = "own:";

/** The player's own harps first, then a stock harp in every key. */
function HarpChoice({ choice, shelf, onChange }: HarpChoicesProps) {
  const own = shelf.harps.map(
    (owned) =>
      [
        `${OWN}${owned.id}`,
        [`My ${harpName(owned.harp)}`, owned.note].filter((part) => part !== "").join(", "),
      ] as const,
  );
  return (
    <ListChoice
      legend="Harp"
      value={ownedHarpOf(choice, shelf) === null ? choice.key : `${OWN}${choice.ownHarp}`}
      options={[...own, ...KEYS_BY_REGISTER.map((key) => [key, `${key} harp`] as const)]}
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
