import { useState } from "react";
import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { drillForSpot } from "../../core/progress/spots/spot-drill.ts";
import type { WeakSpot } from "../../core/progress/spots/weak-spot.ts";
import { LEAST_SESSIONS } from "../../core/progress/trends/claims-together.ts";
import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import { longDay } from "../ui/day-words.ts";
import { walkRows } from "../ui/walk-rows.ts";
import { useWriting, type Writing } from "../ui/writing.ts";
import { HarpFigure } from "./harp-figure.tsx";
import { HowTold } from "./how-told.tsx";
import { PairsFigure } from "./pairs-figure.tsx";
import { daysInWords } from "./pictures/day-words.ts";
import type { ReedReading } from "./pictures/harp-drawing.ts";
import type { PlayedHarp, Read, WeakSpotsAnswer, WeakSpotsAsk } from "./progress-view.ts";
import { Reading } from "./reading.tsx";
import { WeeksChoice } from "./trend-choice.tsx";

interface WeakSpotsPartProps {
  readonly ask: WeakSpotsAsk;
  readonly read: Read<WeakSpotsAnswer>;
  readonly onAsk: (ask: WeakSpotsAsk) => void;
  readonly onStop: () => void;
  readonly onAgain: () => void;
  readonly onPractise: (exercise: Exercise) => void;
}

/** What costs most on this harp, and what to do about it. */
export function WeakSpotsPart(props: WeakSpotsPartProps) {
  const { ask, read, onAsk, onStop, onAgain, onPractise } = props;
  return (
    <main className="progress">
      <h1>What costs most?</h1>
      <Reading read={read} onStop={onStop} onAgain={onAgain}>
        {(answer) =>
          answer.days === null ? (
            <p>
              Nothing here yet. Once something was played, the harp stands here with how each reed action
              went, and from one to the next; what goes wrong on two days gets a drill.
            </p>
          ) : (
            <>
              <div className="row choices">
                <HarpChoice harps={answer.harps} shown={answer.shown?.harp ?? null} ask={ask} onAsk={onAsk} />
                <WeeksChoice weeks={ask.weeks} onChange={(weeks) => onAsk({ ...ask, weeks })} />
              </div>
              {answer.shown === null ? (
                <p>No note of these days could be judged. Look further back.</p>
              ) : (
                <Spots key={answer.shown.harp.key} answer={answer} onPractise={onPractise} />
              )}
            </>
          )
        }
      </Reading>
      <HowTold />
    </main>
  );
}

interface HarpChoiceProps {
  readonly harps: readonly PlayedHarp[];
  readonly shown: PlayedHarp | null;
  readonly ask: WeakSpotsAsk;
  readonly onAsk: (ask: WeakSpotsAsk) => void;
}

function HarpChoice({ harps, shown, ask, onAsk }: HarpChoiceProps) {
  const { say } = useWriting();
  if (harps.length < 2 || shown === null) return null;
  const options = harps.map(({ key, name, notes }) => [key, `${say(name)} (${notes} notes)`] as const);
  return (
    <ListChoice
      legend="Harp"
      value={shown.key}
      options={options}
      onChange={(harp) => onAsk({ ...ask, harp })}
    />
  );
}

type Shown = Extract<WeakSpotsAnswer, { readonly harps: unknown }>;

interface SpotsProps {
  readonly answer: Shown;
  readonly onPractise: (exercise: Exercise) => void;
}

function Spots({ answer: { days, shown }, onPractise }: SpotsProps) {
  const [shows, setShows] = useState<ReedReading["kind"]>("cents");
  if (shown === null) return null;
  const { setting, spots, reeds, pairs } = shown;
  const when = `${days.from} to ${days.to}`;
  return (
    <>
      <WeakList spots={[...spots.reeds, ...spots.pairs]} setting={setting} onPractise={onPractise} />
      <NoLonger spots={spots.noLonger} />
      <section>
        <h2>The harp, {daysInWords(days.from, days.to)}</h2>
        <RadioChoice<ReedReading["kind"]>
          legend="Shown"
          value={shows}
          options={[
            ["cents", "how sharp or flat, in cents, and how far it scatters (±)"],
            ["right", "how many of the notes were right"],
          ]}
          onChange={setShows}
        />
        <HarpFigure harp={setting.harp} reeds={reeds} shows={shows} days={when} />
      </section>
      <section>
        <h2>From one note to the next</h2>
        <PairsFigure harp={setting.harp} pairs={pairs} days={when} />
      </section>
    </>
  );
}

const MOST_LISTED = 6;

interface WeakListProps {
  readonly spots: readonly WeakSpot[];
  readonly setting: DrillSetting;
  readonly onPractise: (exercise: Exercise) => void;
}

/** The weak spots, what costs most first, each with its drill. */
function WeakList({ spots, setting, onPractise }: WeakListProps) {
  const writing = useWriting();
  const [trouble, setTrouble] = useState<string | null>(null);
  const listed = [...spots].sort((one, other) => other.costPer100 - one.costPer100).slice(0, MOST_LISTED);
  if (listed.length === 0)
    return (
      <p>
        Nothing stands out: no reed action and no pair was in trouble more than usual on two days. Below is
        how each of them went.
      </p>
    );
  const practise = (spot: WeakSpot) => {
    const made = drillForSpot(spot.name, setting);
    if (made.kind === "exercise") onPractise(made.exercise);
    else setTrouble(`There is no drill for it: ${made.reason}.`);
  };
  return (
    <>
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble}
        </p>
      )}
      <ol className="spots" onKeyDown={walkRows}>
        {listed.map((spot) => (
          <li key={spot.name}>
            <button type="button" className="open" onClick={() => practise(spot)}>
              Practise<span className="only-read-aloud"> {spotName(spot, writing)}</span>
            </button>
            <div>
              <strong>{spotName(spot, writing)}</strong>
              <p>{spot.words}</p>
              {spot.since.sessions > 0 && <p className="soft">{sinceInWords(spot)}</p>}
            </div>
          </li>
        ))}
      </ol>
    </>
  );
}

/** What became of it since it was found, at length only where something did. */
function sinceInWords({ pickedOn, since: { verdict, sessions, words } }: WeakSpot): string {
  const found = `since it was found on ${longDay(pickedOn)}`;
  if (verdict === "too early")
    return `Too early to say what changed ${found}: ${sessions} of ${LEAST_SESSIONS} sessions.`;
  return verdict === "no clear change" ? `No clear change ${found}, over ${sessions} sessions.` : words;
}

/** What was weak and is no longer, so that nobody looks for it in vain. */
function NoLonger({ spots }: { readonly spots: readonly WeakSpot[] }) {
  const writing = useWriting();
  if (spots.length === 0) return null;
  return (
    <details>
      <summary>Weak earlier, and no longer ({spots.length})</summary>
      <ul>
        {spots.map((spot) => (
          <li key={`${spot.kind} ${spot.name}`}>
            <strong>{spotName(spot, writing)}</strong>, found on {longDay(spot.pickedOn)}: {spot.words}
          </li>
        ))}
      </ul>
    </details>
  );
}

/** "-3''", "from 4 to -4" */
function spotName({ name }: WeakSpot, writing: Writing): string {
  const [first = "", second] = name.split(" > ");
  return second === undefined ? writing.tab(first) : `from ${writing.tab(first)} to ${writing.tab(second)}`;
}
