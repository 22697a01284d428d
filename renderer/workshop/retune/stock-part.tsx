import { useMemo, useState } from "react";
import { harpInKey, harpName, KEYS_BY_REGISTER, withTemperament } from "../../../core/instrument/harp.ts";
import { hz } from "../../../core/units.ts";
import {
  harpsForSet,
  MEASURES,
  type Measure,
  type SetPlan,
} from "../../../core/workshop/retune/harps-for-set.ts";
import { STOCK_HARPS } from "../../../core/workshop/retune/retuning-plan.ts";
import { type StockChoice, type StockFit, stockToBuy } from "../../../core/workshop/retune/stock-to-buy.ts";
import { type TwoPlates, twoPlates } from "../../../core/workshop/retune/two-plates.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import { RadioChoice } from "../../ui/choice.tsx";
import { choiceOfHarp } from "../../ui/chosen-harp.ts";
import { walkRows } from "../../ui/walk-rows.ts";
import { useWriting } from "../../ui/writing.ts";
import { type RetuneView, wantedHarp } from "./retune-view.ts";

interface StockPartProps {
  readonly owned: readonly OwnedHarp[];
  readonly a4Hz: number;
  readonly view: RetuneView;
  readonly onView: (view: RetuneView) => void;
}

type Bought = "standard" | "all";
const STANDARD_HARPS = STOCK_HARPS.filter(({ layout }) => layout.id === "standard");

/** Which harp to begin with, for one wanted harp or a whole set of keys. Worked out once it is opened. */
export function StockPart(props: StockPartProps) {
  const [isOpen, setOpen] = useState(false);
  const [bought, setBought] = useState<Bought>("standard");
  const stock = bought === "standard" ? STANDARD_HARPS : STOCK_HARPS;
  return (
    <details className="stock" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Which harp should I buy for it?</summary>
      {isOpen && (
        <>
          <RadioChoice
            legend="That can be bought"
            value={bought}
            options={[
              ["standard", "standard harps"],
              ["all", "every layout there is"],
            ]}
            onChange={setBought}
          />
          <OneHarp {...props} stock={stock} />
          <WholeSet {...props} stock={stock} />
        </>
      )}
    </details>
  );
}

interface StockProps extends StockPartProps {
  readonly stock: typeof STOCK_HARPS;
}

function OneHarp({ a4Hz, view, onView, stock }: StockProps) {
  const { say } = useWriting();
  const choice = useMemo(() => stockToBuy(wantedHarp(view, a4Hz), stock, view.rules), [view, a4Hz, stock]);
  const plates = useMemo(
    () => twoPlates(choice.wanted, stock, view.rules, choice.tradeOff),
    [choice, stock, view.rules],
  );
  if (choice.tradeOff.length === 0)
    return (
      <p className="notice" role="alert">
        None of these {stock.length} harps has the holes of {choice.wanted.layout.name}.
      </p>
    );
  return (
    <section aria-labelledby="one-harp">
      <h2 id="one-harp">For {say(harpName(choice.wanted))}</h2>
      <p>{say(bestInWords(choice))}</p>
      <table>
        <thead>
          <tr>
            <th scope="col">begin with</th>
            <th scope="col" className="number">
              cents in all
            </th>
            <th scope="col" className="number">
              cents at most
            </th>
            <th scope="col" className="number">
              reeds to work on
            </th>
            <th scope="col" className="number">
              to swap
            </th>
          </tr>
        </thead>
        <tbody onKeyDown={walkRows}>
          {rowsOf(choice).map((fit) => (
            <FitRow
              key={`${harpName(fit.harp)} ${fit.totalCents}`}
              fit={fit}
              onTake={() => onView({ ...view, ownId: null, other: choiceOfHarp(fit.harp) })}
            />
          ))}
        </tbody>
      </table>
      <TwoPlatesLine plates={plates} />
    </section>
  );
}

/** Where a plate of another key helps: the nearest in all of what no single harp does. */
function TwoPlatesLine({ plates: [best] }: { readonly plates: readonly TwoPlates[] }) {
  const { say } = useWriting();
  if (best === undefined) return null;
  const { blow, draw, totalCents, largestCents, worked } = best;
  return (
    <p>
      Or of two harps: the blow plate of {say(harpName(blow.harp))} and the draw plate of{" "}
      {say(harpName(draw.harp))}, {Math.round(totalCents)} cents in all, {Math.round(largestCents)} at most,{" "}
      {worked} reeds to work on.
    </p>
  );
}

/** What is unbeaten, then the best of each other layout. */
const rowsOf = ({ tradeOff, byLayout }: StockChoice): readonly StockFit[] => [
  ...tradeOff,
  ...byLayout.filter((fit) => !tradeOff.includes(fit)),
];

function bestInWords({ tradeOff, tried }: StockChoice): string {
  const [first] = tradeOff;
  const last = tradeOff.at(-1);
  if (first === undefined || last === undefined) return "";
  const all = `Of ${tried} harps, ${harpName(first.harp)} asks for the least work in all`;
  return first === last
    ? `${all} and for the smallest largest change.`
    : `${all}; with ${harpName(last.harp)} no reed moves further than ${Math.round(last.largestCents)} cents, but more of them do.`;
}

function FitRow({ fit, onTake }: { readonly fit: StockFit; readonly onTake: () => void }) {
  const { say } = useWriting();
  return (
    <tr>
      <th scope="row">
        <button type="button" className="open" onClick={onTake}>
          {say(harpName(fit.harp))}
        </button>
      </th>
      <td className="number">{Math.round(fit.totalCents)}</td>
      <td className="number">{Math.round(fit.largestCents)}</td>
      <td className="number">{fit.worked}</td>
      <td className="number">{fit.swapped}</td>
    </tr>
  );
}

const MEASURE_WORDS: Readonly<Record<Measure, string>> = {
  total: "least work in all",
  largest: "least change of any reed",
};

function WholeSet({ owned, a4Hz, view, stock }: StockProps) {
  const { note } = useWriting();
  const [keys, setKeys] = useState<readonly string[]>([]);
  const [by, setBy] = useState<Measure>("total");
  const [mine, setMine] = useState<"use" | "leave">("use");
  const set = useMemo(() => {
    const { layout, temperament } = view.wanted;
    const wanted = KEYS_BY_REGISTER.filter((key) => keys.includes(key)).flatMap((key) => {
      const harp = harpInKey(layout, key, hz(view.wantedA4Hz ?? a4Hz));
      return harp === null ? [] : [withTemperament(harp, temperament)];
    });
    const own = mine === "use" ? owned.map(({ harp }) => harp) : [];
    return harpsForSet(wanted, own, stock, view.rules, by);
  }, [view, a4Hz, keys, by, mine, owned, stock]);
  const toggle = (key: string) =>
    setKeys(keys.includes(key) ? keys.filter((one) => one !== key) : [...keys, key]);
  return (
    <section aria-labelledby="whole-set">
      <h2 id="whole-set">For a whole set of {view.wanted.layout.name}</h2>
      <fieldset className="choice">
        <legend>Keys</legend>
        <div className="row">
          {KEYS_BY_REGISTER.map((key) => (
            <label key={key}>
              <input type="checkbox" checked={keys.includes(key)} onChange={() => toggle(key)} />
              {note(key)}
            </label>
          ))}
        </div>
      </fieldset>
      {keys.length > 0 && (
        <>
          <RadioChoice
            legend="By"
            value={by}
            options={MEASURES.map((measure) => [measure, MEASURE_WORDS[measure]] as const)}
            onChange={setBy}
          />
          {owned.length > 0 && (
            <RadioChoice
              legend="My own harps"
              value={mine}
              options={[
                ["use", "use them first"],
                ["leave", "leave them as they are"],
              ]}
              onChange={setMine}
            />
          )}
          <SetTable set={set} />
        </>
      )}
    </section>
  );
}

function SetTable({ set }: { readonly set: SetPlan }) {
  const { say } = useWriting();
  const buy = set.sources.filter(({ owned }) => owned === null).length;
  return (
    <>
      <p role="status">
        {buy === 0 ? "Nothing to buy" : `${buy} ${buy === 1 ? "harp" : "harps"} to buy`};{" "}
        {Math.round(set.totalCents)} cents in all, {Math.round(set.largestCents)} at most.
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">wanted</th>
            <th scope="col">made of</th>
            <th scope="col" className="number">
              cents in all
            </th>
            <th scope="col" className="number">
              cents at most
            </th>
            <th scope="col" className="number">
              to swap
            </th>
          </tr>
        </thead>
        <tbody>
          {set.sources.map(({ wanted, owned, fit }) => (
            <tr key={harpName(wanted)}>
              <th scope="row">{say(harpName(wanted))}</th>
              <td>
                {say(harpName(fit.harp))}, {owned === null ? "to buy" : "my own"}
              </td>
              <td className="number">{Math.round(fit.totalCents)}</td>
              <td className="number">{Math.round(fit.largestCents)}</td>
              <td className="number">{fit.swapped}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {set.without.length > 0 && (
        <p className="notice" role="alert">
          No harp has what these need: {set.without.map((harp) => say(harpName(harp))).join("; ")}.
        </p>
      )}
    </>
  );
}
