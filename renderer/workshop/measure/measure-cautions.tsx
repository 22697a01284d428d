import { CAUTIONS } from "../../ui/cautions.ts";

const HERE: readonly string[] = ["Breath", "Cleanliness"];

/** What to mind before sixty notes on one harp. */
export function MeasureCautions() {
  return (
    <details className="reed-work">
      <summary>
        Short notes and a relaxed breath, mouth open: hard or long blowing lowers a reed. Rest when you like;
        nothing is lost.
      </summary>
      {CAUTIONS.filter(({ risk }) => HERE.includes(risk)).map(({ risk, words }) => (
        <p key={risk} className="caution">
          <strong>{risk}.</strong> {words}
        </p>
      ))}
    </details>
  );
}
