import type { FoundDegree, HomeScale, Means, ScaleReport } from "../../core/instrument/scale-report.ts";
import { useWriting } from "../ui/writing.ts";
import { MeansSign } from "./means-sign.tsx";

interface DegreeTableProps {
  readonly scale: HomeScale;
  readonly report: ScaleReport;
}

const MEANS_WORDS: Readonly<Record<Means, string>> = {
  plain: "plain",
  bend: "bend",
  overblow: "overblow",
  missing: "missing",
};

/** Every degree in every octave: its note, and how it is had; a missing one is crossed out and says so. */
export function DegreeTable({ scale, report }: DegreeTableProps) {
  return (
    <table className="degrees" aria-label="Degrees in each octave">
      <thead>
        <tr>
          <th scope="col">degree</th>
          {scale.degrees.map((degree) => (
            <th key={degree.name} scope="col">
              {degree.name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {report.octaves.length === 0 && (
          <tr>
            <td colSpan={scale.degrees.length + 1}>none of them lies within the range of these reeds</td>
          </tr>
        )}
        {report.octaves.map((octave, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: octaves have no other name and never move
          <tr key={index}>
            <th scope="row">octave {index + 1}</th>
            {scale.degrees.map((degree) => (
              <DegreeCell key={degree.name} found={octave.find((one) => one.degree === degree.name)} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function DegreeCell({ found }: { readonly found: FoundDegree | undefined }) {
  const writing = useWriting();
  if (found === undefined) {
    return (
      <td className="beyond">
        <span aria-hidden="true">·</span>
        <span className="only-read-aloud">beyond the reeds</span>
      </td>
    );
  }
  const easiest = found.actions[0];
  return (
    <td>
      <MeansSign means={found.means} />
      {writing.note(found.noteName)}{" "}
      <span className="how">{easiest === undefined ? "" : writing.action(easiest)}</span>{" "}
      {found.means !== "plain" && <span className="how">{MEANS_WORDS[found.means]}</span>}
    </td>
  );
}
