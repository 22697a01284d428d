import { KEYS_BY_REGISTER, type Register, registersOfKey } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { EQUAL, type Temperament } from "../../core/instrument/temperament.ts";
import { TUNING_SCHEMES } from "../../core/pitch/tuning-schemes.ts";
import { ListChoice, RadioChoice } from "./choice.tsx";
import { type ChosenHarp, inKey } from "./chosen-harp.ts";
import { useWriting } from "./writing.ts";

interface HarpChoiceProps {
  readonly chosen: ChosenHarp;
  /** The player's own layouts. */
  readonly own: readonly Layout[];
  readonly onChange: (chosen: ChosenHarp) => void;
}

const REGISTER_WORDS: Readonly<Record<Register, string>> = {
  low: "low",
  usual: "usual",
  high: "high",
};

/** Layout, key, register and temperament of a harp. */
export function HarpChoice({ chosen, own, onChange }: HarpChoiceProps) {
  const { note } = useWriting();
  const registers = registersOfKey(chosen.key);
  return (
    <>
      <LayoutChoice layout={chosen.layout} own={own} onChange={(layout) => onChange({ ...chosen, layout })} />
      <ListChoice
        legend="Key"
        value={chosen.key}
        options={KEYS_BY_REGISTER.map((key) => [key, note(key)] as const)}
        onChange={(key) => onChange(inKey(chosen, key))}
      />
      {registers.length > 1 && (
        <RadioChoice
          legend="Register"
          value={chosen.register}
          options={registers.map((register) => [register, REGISTER_WORDS[register]] as const)}
          onChange={(register) => onChange({ ...chosen, register })}
        />
      )}
      <TemperamentChoice
        temperament={chosen.temperament}
        own={chosen.temperament}
        onChange={(temperament) => onChange({ ...chosen, temperament })}
      />
    </>
  );
}

interface TemperamentChoiceProps {
  readonly temperament: Temperament;
  /** Offered beside those of the list, where it is none of them. */
  readonly own: Temperament;
  readonly onChange: (temperament: Temperament) => void;
}

/** Equal, a scheme, or the player's own. */
export function TemperamentChoice({ temperament, own, onChange }: TemperamentChoiceProps) {
  return (
    <ListChoice
      legend="Temperament"
      value={temperamentId(temperament)}
      options={temperamentOptions(own)}
      onChange={(id) => onChange(temperamentOfId(id, own))}
    />
  );
}

interface LayoutChoiceProps {
  readonly layout: Layout;
  readonly own: readonly Layout[];
  readonly onChange: (layout: Layout) => void;
}

function LayoutChoice({ layout, own, onChange }: LayoutChoiceProps) {
  const known = [...STOCK_LAYOUTS, ...own];
  // The layout of a harp stays to be seen when it is no longer among the player's own.
  const all = known.some((one) => one.id === layout.id) ? known : [...known, layout];
  return (
    <ListChoice
      legend="Layout"
      value={layout.id}
      options={all.map((one) => [one.id, own.includes(one) ? `my own: ${one.name}` : one.name] as const)}
      onChange={(id) => onChange(all.find((one) => one.id === id) ?? layout)}
    />
  );
}

const temperamentId = (temperament: Temperament) =>
  temperament.kind === "scheme" ? temperament.scheme : temperament.kind;

function temperamentOptions(chosen: Temperament): readonly (readonly [string, string])[] {
  const listed = TUNING_SCHEMES.map((scheme) => [scheme.id, scheme.name] as const);
  const own =
    chosen.kind === "equal" || chosen.kind === "scheme" ? [] : [[chosen.kind, chosen.name] as const];
  return [["equal", "equal"], ...listed, ...own];
}

function temperamentOfId(id: string, chosen: Temperament): Temperament {
  if (id === "equal") return EQUAL;
  const scheme = TUNING_SCHEMES.find((one) => one.id === id);
  return scheme === undefined ? chosen : { kind: "scheme", scheme: scheme.id };
}
