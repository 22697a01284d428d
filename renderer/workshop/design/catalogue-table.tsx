import { noteName } from "../../../core/pitch/note-names.ts";
import { catalogueBeside } from "../../../core/workshop/design/found-layout.ts";
import type { DesignWish } from "../../../core/workshop/design/wish.ts";
import { useWriting } from "../../ui/writing.ts";
import type { DesignAnswer } from "./design-messages.ts";

interface CatalogueTableProps {
  readonly wish: DesignWish;
  readonly spelling: readonly string[];
  /** How the tunes lie on each, by its id; empty where they do not count. */
  readonly tunes: Extract<DesignAnswer, { kind: "found" }>["catalogue"];
}

/** What every layout of the catalogue would have given in the same key. */
export function CatalogueTable({ wish, spelling, tunes }: CatalogueTableProps) {
  const { note } = useWriting();
  const lines = catalogueBeside(wish);
  const withTunes = Object.keys(tunes).length > 0;
  const nothing = wish.scales.length === 0 ? "–" : "nothing";
  return (
    <details>
      <summary>What the layouts of the catalogue give in this key</summary>
      <div className="wide-table">
        <table>
          <thead>
            <tr>
              <th scope="col">Layout</th>
              <th scope="col">Reeds unlike this harp</th>
              <th scope="col">Lacks of the scales</th>
              <th scope="col">Triads on three holes</th>
              {withTunes && <th scope="col">Notes not plain</th>}
              {withTunes && <th scope="col">of them missing</th>}
            </tr>
          </thead>
          <tbody>
            {lines.map(({ layout, apart, missing, grips }) => (
              <tr key={layout.id}>
                <th scope="row">{layout.name}</th>
                <td>{apart}</td>
                <td>
                  {missing.length === 0
                    ? nothing
                    : missing.map((one) => note(noteName(one, spelling))).join(", ")}
                </td>
                <td>{[...new Set(grips.map(({ triad }) => triad.numeral))].join(", ") || "–"}</td>
                {withTunes && <td>{Math.round(tunes[layout.id]?.notPlain ?? 0)}</td>}
                {withTunes && <td>{Math.round(tunes[layout.id]?.missing ?? 0)}</td>}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
