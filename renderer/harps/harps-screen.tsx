import { type RefObject, useRef, useState } from "react";
import { harpName, registerOf } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { withOffsetsOf } from "../../core/instrument/reed-offsets.ts";
import { EQUAL, temperamentName } from "../../core/instrument/temperament.ts";
import type { OwnedHarp } from "../store/harp-store.ts";
import { type ChosenHarp, choiceOfHarp, FIRST_HARP } from "../ui/chosen-harp.ts";
import { walkRows } from "../ui/walk-rows.ts";
import { useWriting } from "../ui/writing.ts";
import { HarpForm } from "./harp-form.tsx";
import "./harps.css";

export type HarpList =
  | { readonly kind: "loading" }
  | { readonly kind: "harps"; readonly harps: readonly OwnedHarp[] }
  | { readonly kind: "trouble"; readonly words: string };

interface HarpsScreenProps {
  readonly list: HarpList;
  /** The player's own layouts. */
  readonly own: readonly Layout[];
  readonly a4Hz: number;
  readonly newId: () => string;
  readonly onKeep: (harp: OwnedHarp) => void;
  readonly onDelete: (harp: OwnedHarp) => void;
  /** Shows the harp on the instrument screen. */
  readonly onShow: (chosen: ChosenHarp) => void;
}

/** Which harps do I own? */
export function HarpsScreen(props: HarpsScreenProps) {
  const { list, own, a4Hz, newId, onKeep } = props;
  const { say } = useWriting();
  const [changing, setChanging] = useState<OwnedHarp | "new" | null>(null);
  const add = useRef<HTMLButtonElement>(null);
  const close = () => {
    setChanging(null);
    // After the form has gone the list has the keys again.
    setTimeout(() => add.current?.focus());
  };
  return (
    <main className="harps">
      <h1>Which harps do I own?</h1>
      {changing === null ? (
        <HarpsBody {...props} add={add} onChange={setChanging} />
      ) : (
        <HarpForm
          own={own}
          a4Hz={a4Hz}
          title={changing === "new" ? "Add a harp" : `Change ${say(harpName(changing.harp))}`}
          first={changing === "new" ? FIRST_HARP : choiceOfHarp(changing.harp)}
          firstNote={changing === "new" ? "" : changing.note}
          onKeep={(harp, note) => {
            onKeep(
              changing === "new"
                ? { id: newId(), harp, note }
                : { ...changing, harp: withOffsetsOf(changing.harp, harp), note },
            );
            close();
          }}
          onCancel={close}
        />
      )}
      {list.kind === "trouble" && (
        <p className="notice" role="alert">
          {list.words}
        </p>
      )}
    </main>
  );
}

interface BodyProps extends HarpsScreenProps {
  readonly add: RefObject<HTMLButtonElement | null>;
  readonly onChange: (harp: OwnedHarp | "new") => void;
}

function HarpsBody(props: BodyProps) {
  const { list, add, onChange } = props;
  return (
    <>
      {list.kind === "loading" && <p role="status">Reading the harps …</p>}
      {list.kind === "harps" && list.harps.length === 0 && (
        <p>No harp yet. Add the ones you own; drills and tunes will ask which of them you want to play.</p>
      )}
      {list.kind === "harps" && list.harps.length > 0 && <HarpTable {...props} harps={list.harps} />}
      <p>
        <button ref={add} type="button" className="main" onClick={() => onChange("new")}>
          Add a harp
        </button>
      </p>
    </>
  );
}

function HarpTable(props: BodyProps & { readonly harps: readonly OwnedHarp[] }) {
  const { harps, onShow, onChange, onDelete } = props;
  const { say } = useWriting();
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Harp</th>
          <th scope="col">Layout</th>
          <th scope="col">Temperament</th>
          <th scope="col">Note</th>
          <th scope="col">
            <span className="only-read-aloud">Change or delete</span>
          </th>
        </tr>
      </thead>
      <tbody onKeyDown={walkRows}>
        {harps.map((owned) => (
          <tr key={owned.id}>
            <td>
              <button type="button" className="open" onClick={() => onShow(choiceOfHarp(owned.harp))}>
                {say(shortName(owned))}
              </button>
            </td>
            <td>{owned.harp.layout.name}</td>
            <td>{temperamentName(owned.harp.temperament ?? EQUAL)}</td>
            <td className="note">{owned.note}</td>
            <td>
              <div className="row">
                <button type="button" onClick={() => onChange(owned)}>
                  Change<span className="only-read-aloud"> {say(harpName(owned.harp))}</span>
                </button>
                <button type="button" onClick={() => onDelete(owned)}>
                  Delete<span className="only-read-aloud"> {say(harpName(owned.harp))}</span>
                </button>
              </div>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** "low D harp": the layout stands in its own column. */
function shortName({ harp }: OwnedHarp): string {
  const register = registerOf(harp);
  return `${register === "usual" ? "" : `${register} `}${harp.key} harp`;
}
