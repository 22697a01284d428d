import { passNow, type Repair } from "../../../core/workshop/retune/repair.ts";
import { wayInWords } from "../../../core/workshop/retune/retuning-words.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import { longDay } from "../../ui/day-words.ts";
import { walkRows } from "../../ui/walk-rows.ts";
import { useWriting } from "../../ui/writing.ts";
import { openRepair } from "./repairs.ts";

interface UnderWayProps {
  readonly owned: readonly OwnedHarp[];
  readonly onOpen: (harpId: string) => void;
  /** The work was not done after all: the harp is what it was, and its log goes on. */
  readonly onGoOn: (owned: OwnedHarp, repair: Repair) => void;
}

/** Harps that are being worked on, and those done, by the player's own log. */
export function UnderWay({ owned, onOpen, onGoOn }: UnderWayProps) {
  const { say } = useWriting();
  const open = owned.flatMap((one) => {
    const repair = openRepair(one);
    return repair === null ? [] : [{ owned: one, repair }];
  });
  const done = owned.flatMap((one) =>
    (one.repairs ?? []).flatMap((repair) => (repair.doneOn === null ? [] : [{ owned: one, repair }])),
  );
  if (open.length + done.length === 0) return null;
  return (
    <section className="under-way" aria-labelledby="under-way">
      <h2 id="under-way">On the bench</h2>
      {open.length > 0 && (
        <ul onKeyDown={walkRows}>
          {open.map(({ owned: { id, note }, repair }) => (
            <li key={id}>
              <button type="button" className="open" onClick={() => onOpen(id)}>
                {say(wayInWords(repair.from, repair.to))}
              </button>
              {note !== "" && ` (${note})`}: {stateInWords(passNow(repair), repair.rules.passes)}, begun on{" "}
              {longDay(repair.begunOn)}
            </li>
          ))}
        </ul>
      )}
      {done.length > 0 && (
        <details>
          <summary>Done: {done.length}</summary>
          <ul>
            {done.map(({ owned: one, repair }) => (
              <li key={repair.id} className="row">
                <span>
                  {say(wayInWords(repair.from, repair.to))}, begun on {longDay(repair.begunOn)}
                  {repair.doneOn !== null && `, done on ${longDay(repair.doneOn)}`}
                </span>
                {one.repairs?.at(-1) === repair && (
                  <button type="button" onClick={() => onGoOn(one, repair)}>
                    Not done after all
                  </button>
                )}
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

const stateInWords = (pass: number | null, of: number) =>
  pass === null ? "all passes done" : `pass ${pass} of ${of}`;
