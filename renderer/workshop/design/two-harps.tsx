import { type Harp, harpName } from "../../../core/instrument/harp.ts";
import type { HomeScale } from "../../../core/instrument/scale-report.ts";
import { noteName } from "../../../core/pitch/note-names.ts";
import { midi } from "../../../core/units.ts";
import { changesBetween } from "../../../core/workshop/design/limits.ts";
import { HarpPicture } from "../../ui/harp-picture.tsx";
import { useWriting } from "../../ui/writing.ts";
import { gainLines } from "./gain-words.ts";

interface TwoHarpsProps {
  readonly from: Harp;
  readonly to: Harp;
  readonly scale: HomeScale;
  /** Whether `from` is the harp begun with, and not another for comparison. */
  readonly isStart: boolean;
}

/** The harp begun with, or another, and the one found, changes marked reed by reed, gains and losses in words. */
export function TwoHarps({ from, to, scale, isStart }: TwoHarpsProps) {
  const writing = useWriting();
  const changes = changesBetween(from.layout, to.layout);
  const { spelling } = scale;
  const named = (above: number) => writing.note(noteName(midi(from.keyNote + above), spelling));
  return (
    <div className="two-harps">
      <div className="harps-beside">
        <figure>
          <figcaption>
            {writing.say(harpName(from))}
            {isStart && ", as it is"}
          </figcaption>
          <HarpPicture harp={from} spelling={spelling} next={null} changes={[]} />
        </figure>
        <figure>
          <figcaption>As found; framed: {isStart ? "changed" : "unlike"}, by so many semitones</figcaption>
          <HarpPicture harp={to} spelling={spelling} next={null} changes={changes} />
        </figure>
      </div>
      <div className="changes-and-gains">
        <table>
          <caption>{isStart ? "Reeds changed" : "Reeds unlike it"}</caption>
          <thead>
            <tr>
              <th scope="col">Reed</th>
              <th scope="col">from</th>
              <th scope="col">to</th>
              <th scope="col">semitones</th>
            </tr>
          </thead>
          <tbody>
            {changes.map(({ hole, breath, from: was, to: is }) => (
              <tr key={`${hole} ${breath}`}>
                <th scope="row">
                  {hole} {breath}
                </th>
                <td>{named(was)}</td>
                <td>{named(is)}</td>
                <td>{is > was ? `+${is - was}` : `−${was - is}`}</td>
              </tr>
            ))}
            {changes.length === 0 && (
              <tr>
                <td colSpan={4}>None.</td>
              </tr>
            )}
          </tbody>
        </table>
        <table>
          <caption>Gained and lost</caption>
          <thead>
            <tr>
              <th scope="col">Of</th>
              <th scope="col">gained</th>
              <th scope="col">lost</th>
            </tr>
          </thead>
          <tbody>
            {gainLines(from, to, scale, writing).map(({ of, gained, lost }) => (
              <tr key={of}>
                <th scope="row">{of}</th>
                <td>{gained.length === 0 ? "–" : gained.join(", ")}</td>
                <td>{lost.length === 0 ? "–" : lost.join(", ")}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  );
}
