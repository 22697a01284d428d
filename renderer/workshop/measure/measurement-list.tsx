import type { KeptMeasurement } from "../../../core/workshop/measure/measurement.ts";
import { walkRows } from "../../ui/walk-rows.ts";

interface MeasurementListProps {
  readonly list: readonly KeptMeasurement[];
  readonly openId: string | null;
  readonly onOpen: (id: string) => void;
  readonly onRemove: (id: string) => void;
}

const whenOf = ({ beganAtEpochMs, zone }: KeptMeasurement): string => {
  const options = { dateStyle: "medium", timeStyle: "short" } as const;
  try {
    return new Date(beganAtEpochMs).toLocaleString("en-GB", { ...options, timeZone: zone });
  } catch {
    // A zone this browser does not know.
    return new Date(beganAtEpochMs).toLocaleString("en-GB", options);
  }
};

/** All measurements of a harp, the latest first. */
export function MeasurementList({ list, openId, onOpen, onRemove }: MeasurementListProps) {
  return (
    <section aria-label="Measurements of this harp">
      <h2>Measurements of this harp</h2>
      <table>
        <thead>
          <tr>
            {["Begun", "Reeds measured", "From", ""].map((heading) => (
              <th key={heading} scope="col">
                {heading === "" ? <span className="only-read-aloud">Delete</span> : heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody onKeyDown={walkRows}>
          {list.map((one) => (
            <tr key={one.id}>
              <td>
                <button
                  type="button"
                  className="open"
                  aria-current={one.id === openId ? "true" : undefined}
                  onClick={() => onOpen(one.id)}
                >
                  {whenOf(one)}
                </button>
              </td>
              <td>
                {one.reeds.filter(({ outcome }) => outcome === "measured").length} of {one.reeds.length}
                {!one.finished && ", unfinished"}
              </td>
              <td>
                {one.source === "recording" ? "a recording" : "the microphone"}
                {one.afterReedWork && ", after reed work"}
              </td>
              <td>
                <button type="button" onClick={() => onRemove(one.id)}>
                  Delete<span className="only-read-aloud"> {whenOf(one)}</span>
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
