import { ListChoice, NumberChoice, RadioChoice } from "../../ui/choice.tsx";
import { type DesignView, KEY_CHOICES, type KeyChoice, MOST_DANCE_WEIGHT } from "./design-view.ts";

/** The tunes there are. */
export interface DesignTuneList {
  readonly count: number;
  /** Dances among them as the list names them, "" for those whose dance is not known, each with how many. */
  readonly dances: readonly (readonly [dance: string, count: number])[];
}

interface TuneChoicesProps {
  readonly view: DesignView;
  /** Null while they are read. */
  readonly tunes: DesignTuneList | null;
  readonly hasOwnHarps: boolean;
  readonly onView: (view: DesignView) => void;
}

const KEY_WORDS: Readonly<Record<KeyChoice, string>> = {
  every: "in whichever key it lies best",
  mine: "in the keys of my harps",
  this: "in this key alone",
};

/** Whether the tunes count, how much by dance, and on which keys they are played. */
export function TuneChoices({ view, tunes, hasOwnHarps, onView }: TuneChoicesProps) {
  const weightOf = (dance: string) => view.danceWeights[dance] ?? 1;
  return (
    <div className="tune-choices">
      <RadioChoice
        legend="Tunes"
        value={view.withTunes ? "yes" : "no"}
        options={[
          ["no", "do not count"],
          ["yes", tunes === null ? "count" : `count: the ${tunes.count} on the list`],
        ]}
        onChange={(answer) => onView({ ...view, withTunes: answer === "yes" })}
      />
      {view.withTunes && (
        <ListChoice
          legend="Each is played"
          value={view.keys}
          options={KEY_CHOICES.filter((key) => key !== "mine" || hasOwnHarps).map(
            (key) => [key, KEY_WORDS[key]] as const,
          )}
          onChange={(keys) => onView({ ...view, keys })}
        />
      )}
      {view.withTunes && tunes !== null && (
        <details>
          <summary>How many times each dance counts</summary>
          <div className="dance-weights">
            {tunes.dances.map(([dance, count]) => (
              <NumberChoice
                key={dance}
                legend={dance === "" ? "other tunes" : dance}
                unit={count === 1 ? "1 tune" : `${count} tunes`}
                value={weightOf(dance)}
                low={0}
                high={MOST_DANCE_WEIGHT}
                step={1}
                onChange={(weight) =>
                  onView({ ...view, danceWeights: { ...view.danceWeights, [dance]: Math.round(weight) } })
                }
              />
            ))}
          </div>
        </details>
      )}
    </div>
  );
}
