import { harpName } from "../../core/instrument/harp.ts";
import type {
  PlannedDance,
  PlannedSet,
  PlannedTune,
} from "../../core/progress/repertoire/repertoire-dance.ts";
import { lastsInWords, setName } from "../../core/progress/repertoire/repertoire-words.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import { useWriting } from "../ui/writing.ts";

/** Lines of a page at each size of print, the largest first; what is longer still is printed at the smallest. */
const SIZES = [
  { most: 20, name: "huge" },
  { most: 30, name: "large" },
  { most: 40, name: "plain" },
] as const;

/** The dance on one page, to be read from a stand; on the screen it is out of sight. */
export function SetListPaper({ dance }: { readonly dance: PlannedDance }) {
  const lines = dance.sets.reduce((count, { tunes }) => count + 1.5 + tunes.length, 2);
  const size = SIZES.find(({ most }) => lines <= most)?.name ?? "small";
  return (
    <div className={`set-list-paper ${size}`} aria-hidden="true">
      <p className="paper-title">
        {dance.list.name} <span>{lastsInWords(dance.seconds)}</span>
      </p>
      {dance.sets.map((one, number) => (
        <PaperSet key={one.set.id} planned={one} number={number} />
      ))}
    </div>
  );
}

function PaperSet({ planned, number }: { readonly planned: PlannedSet; readonly number: number }) {
  const { set, tunes, changes, seconds } = planned;
  return (
    <div className="paper-set">
      <p className="paper-name">
        {setName(set, number)} <span>{lastsInWords(seconds)}</span>
      </p>
      <table>
        <tbody>
          {tunes.map((one, place) => (
            <PaperTune
              key={one.tune.id}
              planned={one}
              isOther={place === 0 || changes.some(({ after }) => after === place - 1)}
            />
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** @param isOther whether another harp is taken for it, which then stands in bold */
function PaperTune({ planned, isOther }: { readonly planned: PlannedTune; readonly isOther: boolean }) {
  const { say } = useWriting();
  const { tune, tempo, place } = planned;
  return (
    <tr>
      <td>{tune.title}</td>
      <td>× {tune.times}</td>
      <td>{tempo === null ? "" : tempoSign(tempo)}</td>
      <td className={isOther ? "other-harp" : undefined}>
        {place === null ? "" : say(harpName(place.harp))}
      </td>
    </tr>
  );
}
