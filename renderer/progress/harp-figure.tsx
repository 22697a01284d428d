import type { Harp } from "../../core/instrument/harp.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { EVERYTHING, reedActions } from "../../core/instrument/reed-actions.ts";
import { actionInWords, tab } from "../../core/instrument/tab.ts";
import { LEAST_NOTES } from "../../core/progress/counts/measured.ts";
import type { ReedPicture } from "../../core/progress/spots/weak-spot.ts";
import { useWriting } from "../ui/writing.ts";
import { Figure } from "./figure.tsx";
import { type HarpPicture, harpDrawing, type ReedReading } from "./pictures/harp-drawing.ts";
import { number, valueInWords } from "./pictures/values.ts";

interface HarpFigureProps {
  readonly harp: Harp;
  readonly reeds: readonly ReedPicture[];
  readonly shows: ReedReading["kind"];
  readonly days: string;
}

/** The harp with what is known of each reed action. */
export function HarpFigure({ harp, reeds, shows, days }: HarpFigureProps) {
  const { say, tab: written } = useWriting();
  const words = wordsOf(reeds, shows, written);
  const picture: HarpPicture = {
    title: `${shows === "cents" ? "Intonation" : "Notes right"} of each reed action: ${say(harpName(harp))}`,
    description: words,
    layout: harp.layout,
    shows,
    readings: new Map(
      reeds.flatMap((reed) => {
        const reading = readingOf(reed, shows);
        return reading === null ? [] : [[reed.name, reading] as const];
      }),
    ),
  };
  return (
    <>
      <p>{words}</p>
      <Figure
        draw={(room) => harpDrawing(picture, room)}
        words={[words]}
        days={days}
        table={<ReedTable harp={harp} reeds={reeds} />}
      />
    </>
  );
}

/** Null with too few notes to say. */
function readingOf({ asked, right, cents }: ReedPicture, shows: ReedReading["kind"]): ReedReading | null {
  if (shows === "right")
    return asked < LEAST_NOTES ? null : { kind: "right", share: right.share, notes: asked };
  return cents === null || cents.notes < LEAST_NOTES
    ? null
    : { kind: "cents", cents: cents.mean, spreadCents: cents.spread };
}

/** What stands out most, in a sentence. */
function wordsOf(
  reeds: readonly ReedPicture[],
  shows: ReedReading["kind"],
  written: (tab: string) => string,
): string {
  const known = reeds.flatMap((reed) => {
    const reading = readingOf(reed, shows);
    return reading === null ? [] : [{ reed, reading }];
  });
  const worst = [...known].sort((one, other) => badness(other.reed, shows) - badness(one.reed, shows))[0];
  if (worst === undefined) return `No reed action has the ${LEAST_NOTES} notes yet that it takes.`;
  const { reading } = worst;
  const name = written(worst.reed.name);
  if (reading.kind === "right") {
    if (known.every(({ reed }) => reed.right.share === 1)) return "Every note was right.";
    return `Least often right: ${name}, ${valueInWords(reading.share, "share")} of ${reading.notes} notes.`;
  }
  const side = reading.cents > 0 ? "sharp" : "flat";
  return `Furthest off: ${name}, on average ${number(Math.abs(reading.cents))} cents ${side}.`;
}

/** Of shares by the high end of the interval: one that went wrong in all of eight notes is not yet the worst. */
const badness = ({ right, cents }: ReedPicture, shows: ReedReading["kind"]): number =>
  shows === "right" ? 1 - right.high : Math.abs(cents?.mean ?? 0);

function ReedTable({ harp, reeds }: { readonly harp: Harp; readonly reeds: readonly ReedPicture[] }) {
  const writing = useWriting();
  const byName = new Map(reeds.map((reed) => [reed.name, reed]));
  const rows = reedActions(harp.layout, EVERYTHING).flatMap(({ action }) => {
    const reed = byName.get(tab(action));
    return reed === undefined ? [] : [{ action, reed }];
  });
  return (
    <div className="frame">
      <table>
        <caption className="only-read-aloud">Each reed action that was asked for</caption>
        <thead>
          <tr>
            <th scope="col">Reed action</th>
            <th scope="col">Notes</th>
            <th scope="col">
              Right <span className="soft">(%)</span>
            </th>
            <th scope="col">
              Off <span className="soft">(cents)</span>
            </th>
            <th scope="col">
              Scatter <span className="soft">(cents)</span>
            </th>
            <th scope="col">
              From the beat <span className="soft">(ms)</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ action, reed }) => (
            <tr key={reed.name}>
              <th scope="row">
                {writing.action(action)} <span className="soft">{actionInWords(action)}</span>
              </th>
              <td>{reed.asked}</td>
              <td>{shareCell(reed.right)}</td>
              <td>{reed.cents === null ? "-" : number(reed.cents.mean, true)}</td>
              <td>{reed.cents?.spread == null ? "-" : number(reed.cents.spread)}</td>
              <td>{reed.ms === null ? "-" : number(reed.ms.mean, true)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** "93 (88 to 97)" */
export function shareCell({ share, low, high }: ReedPicture["right"]): string {
  const percent = (value: number) => String(Math.round(100 * value));
  return `${percent(share)} (${percent(low)} to ${percent(high)})`;
}
