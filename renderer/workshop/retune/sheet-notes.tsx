import type { BenchSheet } from "../../../core/workshop/retune/bench-sheet.ts";
import { useWriting } from "../../ui/writing.ts";

/** What comes before tuning, what the words mean, how to read, and what is finished by ear. */
export function SheetNotes({ sheet }: { readonly sheet: BenchSheet }) {
  const { first, means, advice, pairs } = sheet;
  return (
    <>
      {first.length > 0 && (
        <section aria-labelledby="before-tuning">
          <h2 id="before-tuning">Before tuning</h2>
          <Lines lines={first} />
        </section>
      )}
      {means.length > 0 && <Lines lines={means} />}
      <details>
        <summary>How to work and how to read</summary>
        <Lines lines={advice} />
      </details>
      {pairs.length > 0 && (
        <details>
          <summary>Finishing by ear: {pairs.length} pairs and their beats</summary>
          <table>
            <thead>
              <tr>
                <th scope="col">pair</th>
                <th scope="col">beats when right</th>
              </tr>
            </thead>
            <tbody>
              {pairs.map(({ pair, beats }) => (
                <tr key={pair}>
                  <th scope="row">{pair}</th>
                  <td>{beats}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </>
  );
}

function Lines({ lines }: { readonly lines: readonly string[] }) {
  const { say } = useWriting();
  return (
    <ul className="sheet-lines">
      {lines.map((line) => (
        <li key={line}>{say(line)}</li>
      ))}
    </ul>
  );
}
