import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import { type ReedAction, sameAction } from "../../core/instrument/reed-actions.ts";
import { actionInWords } from "../../core/instrument/tab.ts";
import type { Tune } from "../../core/tune/tune.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import { useWriting } from "../ui/writing.ts";

interface NotePartProps {
  readonly tune: Tune;
  readonly plan: TunePlan;
  readonly chosen: number;
  readonly pins: NonNullable<TuneStudy["pins"]>;
  readonly onChoose: (note: number) => void;
  /** Null lets the path choose again. */
  readonly onPin: (written: number, action: ReedAction | null) => void;
}

/** One note of the path: the other ways to sound it, and what each would cost. */
export function NotePart({ tune, plan, chosen, pins, onChoose, onPin }: NotePartProps) {
  const writing = useWriting();
  const note = tune.notes[chosen];
  if (note === undefined) return null;
  const action = plan.path.actions[chosen] ?? null;
  const others = plan.alternatives[chosen] ?? [];
  const pinned = pins.find(({ written }) => written === note.written) ?? null;
  const where = plan.path.missing.find((one) => one.note === chosen);
  return (
    <section className="no-print" aria-label="One note">
      <h2>One note</h2>
      <p className="row">
        <button type="button" onClick={() => onChoose(Math.max(0, chosen - 1))} disabled={chosen === 0}>
          Note before
        </button>
        <button type="button" onClick={() => onChoose(chosen + 1)} disabled={chosen >= tune.notes.length - 1}>
          Note after
        </button>
        <span role="status">
          {writing.note(note.name)}, bar {(tune.bars[note.bar]?.written ?? 0) + 1}:{" "}
          {action === null ? "not on this harp" : writing.action(action)}
        </span>
      </p>
      {where !== undefined && <p className="soft">The harp lacks it.</p>}
      {others.length > 0 && (
        <fieldset className="choice">
          <legend>Play it as</legend>
          <label>
            <input
              type="radio"
              name="pin"
              checked={pinned === null}
              onChange={() => onPin(note.written, null)}
            />
            whatever suits the path
          </label>
          {others.map((other) => (
            <label key={actionInWords(other.action)}>
              <input
                type="radio"
                name="pin"
                checked={pinned !== null && sameAction(pinned.action, other.action)}
                onChange={() => onPin(note.written, other.action)}
              />
              {actionInWords(other.action)}{" "}
              <span className="soft">
                {other.more < 0.005 ? "easiest" : `+${other.more.toFixed(1)} effort`}
              </span>
            </label>
          ))}
        </fieldset>
      )}
      {plan.path.lostPins.map(({ pin, reason }) => (
        <p className="notice" key={`${pin.note} ${reason}`}>
          {reason}
        </p>
      ))}
    </section>
  );
}
