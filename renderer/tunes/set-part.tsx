import { useState } from "react";
import { harpName } from "../../core/instrument/harp.ts";
import type { PlannedSet } from "../../core/progress/repertoire/repertoire-dance.ts";
import type { SetChange } from "../../core/progress/repertoire/repertoire-edit.ts";
import { fewestChanges, orderTune, type SetOrder } from "../../core/progress/repertoire/repertoire-order.ts";
import {
  BREAK_SECONDS,
  LONGEST_NAME,
  PAUSE_SECONDS,
  type SetTune,
} from "../../core/progress/repertoire/repertoire-set-list.ts";
import {
  changeInWords,
  lastsInWords,
  placeInWords,
  setName,
} from "../../core/progress/repertoire/repertoire-words.ts";
import type { ListedTune } from "../store/tune-store.ts";
import { NumberChoice } from "../ui/choice.tsx";
import { TextChoice } from "../ui/text-choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { SetTuneRow, type SetTuneRowProps } from "./set-tune-row.tsx";
import { TuneFinder } from "./tune-finder.tsx";

export interface SetPartProps {
  readonly planned: PlannedSet;
  /** Place in the list, from 0. */
  readonly number: number;
  readonly isLast: boolean;
  readonly isPending: (tune: SetTune) => boolean;
  readonly openTune: string | null;
  readonly tunes: readonly ListedTune[];
  readonly rowOf: (
    tune: SetTune,
  ) => Pick<SetTuneRowProps, "onToggle" | "onChange" | "onMove" | "onTakeOut" | "onOpenTune">;
  readonly onAdd: (tune: ListedTune) => void;
  readonly onChange: (change: SetChange) => void;
  readonly onMove: (by: 1 | -1) => void;
  readonly onDelete: () => void;
  readonly onOrder: (order: SetOrder) => void;
  readonly onPractise: () => void;
}

/** The tunes of one dance, with where another harp is needed. */
export function SetPart(props: SetPartProps) {
  const { planned, number, isLast, isPending, openTune, rowOf, onPractise } = props;
  const { say } = useWriting();
  const [adding, setAdding] = useState(false);
  const { set, tunes, changes, seconds } = planned;
  const first = tunes[0]?.place ?? null;
  const name = setName(set, number);
  return (
    <section className="set" aria-label={name}>
      <h2>
        {name} · {lastsInWords(seconds)}
        {changes.length > 0 && ` · ${changes.length} harp ${changes.length === 1 ? "change" : "changes"}`}
      </h2>
      {first !== null && <p className="soft">Begins on the {say(placeInWords(first))}.</p>}
      {tunes.length === 0 && <p>No tune yet. Add the first one.</p>}
      <ol className="set-tunes">
        {tunes.flatMap((one, place) => [
          ...changes
            .filter(({ after }) => after === place - 1)
            .map((change) => (
              <li key={`change ${one.tune.id}`} className="harp-change">
                {say(changeInWords(change))}
              </li>
            )),
          <SetTuneRow
            key={one.tune.id}
            planned={one}
            place={place}
            isPending={isPending(one.tune)}
            isOpen={openTune === one.tune.id}
            {...rowOf(one.tune)}
          />,
        ])}
      </ol>
      <OrderOffer {...props} />
      {adding ? (
        <TuneFinder tunes={props.tunes} onFound={props.onAdd} onLeave={() => setAdding(false)} />
      ) : (
        <p className="row">
          <button type="button" onClick={() => setAdding(true)}>
            Add a tune<span className="only-read-aloud"> to {name}</span>
          </button>
          {tunes.some(({ place }) => place !== null) && (
            <button type="button" onClick={onPractise}>
              Practise this set
            </button>
          )}
        </p>
      )}
      <SetChoices {...props} name={name} />
      {!isLast && <p className="soft break">break of {lastsInWords(set.breakSeconds)}</p>}
    </section>
  );
}

function SetChoices({ planned, name, onChange, onMove, onDelete }: SetPartProps & { readonly name: string }) {
  const { set } = planned;
  return (
    <details>
      <summary>Name, pauses and place of {name}</summary>
      <div className="set-choices">
        <TextChoice
          legend="Name"
          most={LONGEST_NAME}
          value={set.name}
          onChange={(next) => onChange({ name: next })}
        />
        <NumberChoice
          legend="Between tunes"
          unit="seconds"
          value={set.pauseSeconds}
          {...PAUSE_SECONDS}
          step={1}
          onChange={(pauseSeconds) => onChange({ pauseSeconds })}
        />
        <NumberChoice
          legend="Break after it"
          unit="seconds"
          value={set.breakSeconds}
          {...BREAK_SECONDS}
          step={30}
          onChange={(breakSeconds) => onChange({ breakSeconds })}
        />
        <p className="row">
          <button type="button" onClick={() => onMove(-1)}>
            Set up
          </button>
          <button type="button" onClick={() => onMove(1)}>
            Set down
          </button>
          <button type="button" onClick={onDelete}>
            Delete the set
          </button>
        </p>
      </div>
    </details>
  );
}

/** An order with fewer harp changes, where there is one; nothing is moved unasked. */
function OrderOffer({ planned: { tunes }, onOrder }: SetPartProps) {
  const { say } = useWriting();
  const wishes = tunes.flatMap((one) => orderTune(one) ?? []);
  const found = wishes.length === tunes.length ? fewestChanges(wishes) : null;
  if (found === null || found.changes >= found.changesNow) return null;
  const names = new Map(
    tunes.flatMap(({ laid }) => (laid?.onEach ?? []).map(({ key, harp }) => [key, harpName(harp)] as const)),
  );
  // The harp is named where one is taken.
  const titles = found.order
    .map((place, n) => {
      const [title, harp] = [tunes[place]?.tune.title ?? "", found.harps[n]];
      return harp === undefined || harp === found.harps[n - 1] ? title : `${title} on the ${names.get(harp)}`;
    })
    .join(", ");
  const count =
    found.changes === 0
      ? "no harp change"
      : `${found.changes} harp ${found.changes === 1 ? "change" : "changes"}`;
  return (
    <p>
      There is a way with {count} instead of {found.changesNow}: {say(titles)}.{" "}
      <button type="button" onClick={() => onOrder(found)}>
        Play it so
      </button>
    </p>
  );
}
