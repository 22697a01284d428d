import {
  standingInWords,
  TUNE_STATUSES,
  type TuneStanding,
  type TuneStatus,
} from "../../core/progress/repertoire/repertoire-status.ts";
import { ListChoice } from "../ui/choice.tsx";
import { dayInWords } from "./repertoire-view.ts";

interface StandingPartProps {
  readonly standing: TuneStanding;
  readonly nowEpochMs: number;
  /** The player's own word; undefined to go by the attempts. */
  readonly onStatus: (status: TuneStatus | undefined) => void;
}

const BY_ATTEMPTS = "by your attempts";

/** Where the tune stands in the repertoire and why; the player's own word stands above it. */
export function StandingPart({ standing, nowEpochMs, onStatus }: StandingPartProps) {
  const { status, byHand } = standing;
  return (
    <section className="no-print" aria-label="State">
      <h2>State</h2>
      <p>
        {status}: {standingInWords(standing, (epochMs) => dayInWords(epochMs, nowEpochMs))}.
      </p>
      <ListChoice
        legend="Told"
        value={byHand ? status : BY_ATTEMPTS}
        options={[BY_ATTEMPTS, ...TUNE_STATUSES].map((one) => [one, one] as const)}
        onChange={(next) => onStatus(TUNE_STATUSES.find((one) => one === next))}
      />
    </section>
  );
}
