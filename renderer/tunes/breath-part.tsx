import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import type { BreathBalance } from "../../core/path/breath-balance.ts";

interface BreathPartProps {
  readonly plan: TunePlan;
  readonly even: boolean;
  readonly onEven: (even: boolean) => void;
}

const MOST_SPOTS = 5;

/** What is hard, and how the air runs. */
export function BreathPart({ plan, even, onEven }: BreathPartProps) {
  const { spots, balance } = plan;
  return (
    <section aria-label="Hard spots and breath" className="no-print">
      <h2>Hard spots</h2>
      {spots.length === 0 ? (
        <p>Nothing stands out.</p>
      ) : (
        <ul>
          {spots.slice(0, MOST_SPOTS).map((spot) => (
            <li key={spot.words}>
              {spot.words}
              {spot.at.length > 1 ? `, ${spot.at.length} times` : ""}
            </li>
          ))}
        </ul>
      )}
      <h2>Breath</h2>
      <p>
        {balance.blowSeconds.toFixed(0)} s blown, {balance.drawSeconds.toFixed(0)} s drawn; a breath fits in{" "}
        {balance.places.length} {balance.places.length === 1 ? "place" : "places"} (’ on the sheet).
      </p>
      <AirCurve balance={balance} />
      {worst(balance).map((trouble) => (
        <p key={trouble.words}>{trouble.words}</p>
      ))}
      <label>
        <input type="checkbox" checked={even} onChange={(event) => onEven(event.target.checked)} /> a path
        that evens the breath
      </label>
    </section>
  );
}

const MOST_TROUBLES = 2;

const worst = ({ troubles }: BreathBalance) =>
  [...troubles].sort((one, other) => other.mostSeconds - one.mostSeconds).slice(0, MOST_TROUBLES);

const WIDTH = 480;
const HEIGHT = 80;

/** Air along the tune: above the line more drawn, below it more blown. */
function AirCurve({ balance }: { readonly balance: BreathBalance }) {
  const { air } = balance;
  const end = air.at(-1)?.atSeconds ?? 1;
  const most = Math.max(5, ...air.map(({ airSeconds }) => Math.abs(airSeconds)));
  const points = air.map(
    ({ atSeconds, airSeconds }) =>
      `${((atSeconds / end) * WIDTH).toFixed(1)},${(HEIGHT / 2 - (airSeconds / most) * (HEIGHT / 2 - 4)).toFixed(1)}`,
  );
  const [highest, lowest] = [
    Math.max(0, ...air.map(({ airSeconds }) => airSeconds)),
    Math.max(0, ...air.map(({ airSeconds }) => -airSeconds)),
  ];
  const words = `Air along the tune: at most ${highest.toFixed(1)} s more drawn, ${lowest.toFixed(1)} s more blown`;
  return (
    <svg className="air" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={words}>
      <line className="rule" x1={0} x2={WIDTH} y1={HEIGHT / 2} y2={HEIGHT / 2} />
      <polyline points={points.join(" ")} />
    </svg>
  );
}
