import { useMemo } from "react";
import type { Harp } from "../../core/instrument/harp.ts";
import type { HomeScale } from "../../core/instrument/scale-report.ts";
import { useWriting, type Writing } from "../ui/writing.ts";
import { type ChordGrip, type ListedChord, otherChords, triadList } from "./chords.ts";
import { MeansSign } from "./means-sign.tsx";

interface ChordTablesProps {
  readonly harp: Harp;
  readonly scale: HomeScale;
  readonly onSound: (grip: ChordGrip) => void;
}

const HAS_WORDS: Readonly<Record<ListedChord["has"], string>> = {
  complete: "complete",
  partial: "partial",
  none: "not on this harp",
};

/** The chords a player can back with: triads of the home key, then sevenths and octaves. */
export function ChordTables({ harp, scale, onSound }: ChordTablesProps) {
  const triads = useMemo(() => triadList(harp, scale), [harp, scale]);
  const writing = useWriting();
  const others = useMemo(() => otherChords(harp, scale), [harp, scale]);
  return (
    <section className="chords" aria-label="Chords">
      <h2>Chords</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Numeral</th>
            <th scope="col">Chord</th>
            <th scope="col">Notes</th>
            <th scope="col">Here</th>
            <th scope="col">Holes: press to hear</th>
          </tr>
        </thead>
        <tbody>
          {triads.map((chord) => (
            <tr key={chord.numeral}>
              <th scope="row">{chord.numeral}</th>
              <td>{writing.chord(chord.name)}</td>
              <td>{chord.noteNames.map(writing.note).join(" ")}</td>
              <td>
                <MeansSign means={chord.has} /> {HAS_WORDS[chord.has]}
              </td>
              <td className="grips">
                {chord.grips.map((grip) => (
                  <GripButton
                    key={grip.words}
                    name={writing.chord(chord.name)}
                    grip={grip}
                    onSound={onSound}
                  />
                ))}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {others.length > 0 && (
        <details>
          <summary>Sevenths, sixths and split octaves ({others.length})</summary>
          <ul className="grips">
            {others.map((one) => (
              <li key={one.grip.words}>
                {nameOf(one.name, writing)}
                {one.numeral === null ? "" : ` (${one.numeral})`}{" "}
                <GripButton name={nameOf(one.name, writing)} grip={one.grip} onSound={onSound} />
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** A chord, or "octave G3 G4". */
const nameOf = (name: string, writing: Writing) =>
  name.startsWith("octave ") ? writing.say(name) : writing.chord(name);

interface GripButtonProps {
  readonly name: string;
  readonly grip: ChordGrip;
  readonly onSound: (grip: ChordGrip) => void;
}

function GripButton({ name, grip, onSound }: GripButtonProps) {
  return (
    <button type="button" onClick={() => onSound(grip)}>
      <span className="only-read-aloud">Hear {name} on </span>
      {grip.words}
    </button>
  );
}
