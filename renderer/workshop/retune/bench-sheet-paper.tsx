import type { BenchSheet, SheetPair, SheetRow } from "../../../core/workshop/retune/bench-sheet.ts";
import { useWriting } from "../../ui/writing.ts";
import "./bench-sheet.css";

/** Passes that leave the words for the work on one line. */
const MOST_ROOMY = 3;

/** The sheet for the bench as it is on paper; on the screen it is out of sight. */
export function BenchSheetPaper({ sheet }: { readonly sheet: BenchSheet }) {
  const { say } = useWriting();
  const half = Math.ceil(sheet.pairs.length / 2);
  return (
    <div className={sheet.passes.length > MOST_ROOMY ? "bench-sheet many" : "bench-sheet"} aria-hidden="true">
      <p className="paper-title">{say(sheet.title)}</p>
      {sheet.lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      <p className="dates">
        {["Begun", ...sheet.passes.slice(1).map(({ name }) => name)].map((name) => (
          <span key={name} className="date">
            {name} on <span className="line" />
          </span>
        ))}
      </p>
      <p className="paper-caution">{sheet.caution}</p>
      <PaperLines lines={sheet.advice} />
      {sheet.first.length > 0 && <p className="paper-name">Before tuning</p>}
      <PaperLines lines={sheet.first} />
      <p className="paper-name">Reeds, in the order of the work</p>
      <PaperLines lines={sheet.means} />
      <PaperReeds sheet={sheet} />
      {half > 0 && (
        <div className="paper-pairs">
          <p className="paper-name">Last, by ear: octaves and unisons at the very end</p>
          <div className="paper-halves">
            <PaperPairs pairs={sheet.pairs.slice(0, half)} />
            <PaperPairs pairs={sheet.pairs.slice(half)} />
          </div>
        </div>
      )}
      <div className="paper-notes">
        <p className="paper-name">Notes</p>
        <p className="line" />
        <p className="line" />
        <p className="line" />
      </div>
    </div>
  );
}

function PaperLines({ lines }: { readonly lines: readonly string[] }) {
  const { say } = useWriting();
  if (lines.length === 0) return null;
  return (
    <ul>
      {lines.map((line) => (
        <li key={line}>{say(line)}</li>
      ))}
    </ul>
  );
}

function PaperReeds({ sheet: { passes, rows } }: { readonly sheet: BenchSheet }) {
  return (
    <table>
      <thead>
        <tr>
          {["", "reed", "now", "wanted", "cents", "work", "before"].map((head) => (
            <th key={head}>{head}</th>
          ))}
          {passes.flatMap(({ name, rest }) => [
            <th key={`${name} aim`}>
              {name}
              <br />
              aim
            </th>,
            <th key={`${name} read`}>
              read
              <br />
              {rest}
            </th>,
          ])}
          {passes.length === 0 && <th>after</th>}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <PaperReed key={row.reed} row={row} />
        ))}
      </tbody>
    </table>
  );
}

function PaperReed({ row }: { readonly row: SheetRow }) {
  const { note } = useWriting();
  return (
    <tr>
      <td className="number">{row.order}</td>
      <td className="reed">{row.reed}</td>
      <td>{note(row.noteNow)}</td>
      <td>{note(row.noteWanted)}</td>
      <td className="number">{row.change}</td>
      <td className="work">{row.work}</td>
      <td className="blank number">{row.readingNow}</td>
      {row.aims.flatMap((aim, place) => [
        // A pass is known by its place.
        // biome-ignore lint/suspicious/noArrayIndexKey: passes have no other name and never move
        <td key={`aim ${place}`} className="number">
          {aim}
        </td>,
        // biome-ignore lint/suspicious/noArrayIndexKey: as above
        <td key={`read ${place}`} className="blank" />,
      ])}
      {row.aims.length === 0 && <td className="blank" />}
    </tr>
  );
}

function PaperPairs({ pairs }: { readonly pairs: readonly SheetPair[] }) {
  if (pairs.length === 0) return null;
  return (
    <table>
      <thead>
        <tr>
          <th>pair</th>
          <th>beats when right</th>
          <th>heard</th>
        </tr>
      </thead>
      <tbody>
        {pairs.map(({ pair, beats }) => (
          <tr key={pair}>
            <td>{pair}</td>
            <td>{beats}</td>
            <td className="blank" />
          </tr>
        ))}
      </tbody>
    </table>
  );
}
