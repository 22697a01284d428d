import type { Harp } from "../../core/instrument/harp.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { EVERYTHING, reedActions } from "../../core/instrument/reed-actions.ts";
import { tab } from "../../core/instrument/tab.ts";
import { LEAST_NOTES } from "../../core/progress/counts/measured.ts";
import type { PairPicture } from "../../core/progress/spots/weak-spot.ts";
import { useWriting } from "../ui/writing.ts";
import { Figure } from "./figure.tsx";
import { shareCell } from "./harp-figure.tsx";
import { type PairsPicture, pairsDrawing } from "./pictures/pairs-drawing.ts";

interface PairsFigureProps {
  readonly harp: Harp;
  readonly pairs: readonly PairPicture[];
  readonly days: string;
}

/** From each reed action to each other: how often the second note was in trouble. */
export function PairsFigure({ harp, pairs, days }: PairsFigureProps) {
  const { say, tab: written } = useWriting();
  const known = pairs.filter(({ asked }) => asked >= LEAST_NOTES);
  const words = wordsOf(known, written);
  if (pairs.length === 0) return <p>{words}</p>;
  const order = reedActions(harp.layout, EVERYTHING).map(({ action }) => tab(action));
  const inOrder = (names: readonly string[]) => order.filter((name) => names.includes(name)).map(written);
  const picture: PairsPicture = {
    title: `From one note to the next: ${say(harpName(harp))}`,
    description: words,
    from: inOrder(pairs.map(({ from }) => from)),
    to: inOrder(pairs.map(({ to }) => to)),
    pairs: pairs.map(({ from, to, asked, troubled }) => ({
      from: written(from),
      to: written(to),
      notes: asked,
      troubledShare: asked < LEAST_NOTES ? null : troubled.share,
    })),
  };
  return (
    <>
      <p>{words} A note is in trouble if it is wrong, missed, out of tune or off the beat.</p>
      <Figure
        draw={(room) => pairsDrawing(picture, room)}
        words={[words]}
        days={days}
        table={<PairsTable pairs={pairs} />}
      />
    </>
  );
}

/** By the low end of its interval: one that went wrong in all of eight notes is not yet the worst. */
const byTrouble = (one: PairPicture, other: PairPicture) => other.troubled.low - one.troubled.low;

function wordsOf(known: readonly PairPicture[], written: (tab: string) => string): string {
  const worst = [...known].sort(byTrouble)[0];
  if (worst === undefined) return `No pair has the ${LEAST_NOTES} notes yet that it takes.`;
  const { from, to, asked, troubled } = worst;
  if (troubled.share === 0) return "No pair was in trouble.";
  const percent = (value: number) => Math.round(100 * value);
  return `Worst: from ${written(from)} to ${written(to)}, ${percent(troubled.share)} % of ${asked} notes in trouble (${percent(troubled.low)} to ${percent(troubled.high)} %).`;
}

function PairsTable({ pairs }: { readonly pairs: readonly PairPicture[] }) {
  const { tab: written } = useWriting();
  const rows = [...pairs].sort(byTrouble);
  return (
    <div className="frame">
      <table>
        <caption className="only-read-aloud">Each pair that was asked for, the worst first</caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col">To</th>
            <th scope="col">Notes</th>
            <th scope="col">
              In trouble <span className="soft">(%)</span>
            </th>
            <th scope="col">
              Right <span className="soft">(%)</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ from, to, asked, troubled, right }) => (
            <tr key={`${from} ${to}`}>
              <td>{written(from)}</td>
              <td>{written(to)}</td>
              <td>{asked}</td>
              <td>{shareCell(troubled)}</td>
              <td>{shareCell(right)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
