import { type Harp, reedNote } from "../../../core/instrument/harp.ts";
import { type BREATHS, reedsOf } from "../../../core/instrument/layout.ts";
import { PLAIN_AND_BENDS, reedActions } from "../../../core/instrument/reed-actions.ts";
import { modeOn } from "../../../core/instrument/scale-report.ts";
import { neighbourSonorities } from "../../../core/instrument/sonorities.ts";
import { tab } from "../../../core/instrument/tab.ts";
import { spellingOf } from "../../../core/pitch/modes.ts";
import { noteName, pitchClass } from "../../../core/pitch/note-names.ts";
import { midi, semitones } from "../../../core/units.ts";
import { triadsOfWish } from "../../../core/workshop/design/triads-wanted.ts";
import { ListChoice } from "../../ui/choice.tsx";
import { useWriting } from "../../ui/writing.ts";
import { chordText, type DesignView, ORDER_CHOICES, type OrderChoice, wishOfView } from "./design-view.ts";
import { TickList } from "./tick-list.tsx";

interface LimitChoicesProps {
  readonly view: DesignView;
  readonly harp: Harp;
  readonly onView: (view: DesignView) => void;
}

const SEMITONES = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] as const;
const ORDER_WORDS: Readonly<Record<OrderChoice, string>> = {
  free: "either is higher",
  "as now": "as it is now",
  "draw higher": "draw is higher",
  "blow higher": "blow is higher",
};

/** How much may be changed, in the open; what must stay, folded. */
export function LimitChoices({ view, harp, onView }: LimitChoicesProps) {
  const reeds = reedsOf(harp.layout).length;
  return (
    <div className="design-limits">
      <ListChoice
        legend="A reed moves at most"
        value={view.mostSemitones}
        options={SEMITONES.map(
          (count) => [count, count === 1 ? "1 semitone" : `${count} semitones`] as const,
        )}
        onChange={(mostSemitones) => onView({ ...view, mostSemitones })}
      />
      <ListChoice
        legend="Reeds changed at most"
        value={view.mostChanged ?? -1}
        options={[
          [-1, "as few as can be"] as const,
          ...Array.from({ length: reeds + 1 }, (_, count) => [count, String(count)] as const),
        ]}
        onChange={(count) => onView({ ...view, mostChanged: count < 0 ? null : count })}
      />
      <ListChoice
        legend="In each hole"
        value={view.order}
        options={ORDER_CHOICES.map((order) => [order, ORDER_WORDS[order]] as const)}
        onChange={(order) => onView({ ...view, order, freeHoles: [] })}
      />
      {view.freeHoles.length > 0 && <p className="soft">Not in hole {view.freeHoles.join(", ")}.</p>}
    </div>
  );
}

/** Reeds, chords and bends that must stay, and triads there must be. */
export function KeptThings({ view, harp, onView }: LimitChoicesProps) {
  const { note, say } = useWriting();
  const plain = { technique: "plain", bentSemitones: semitones(0) } as const;
  const names = spellingOf(harp.key, "major");
  const named = (hole: number, breath: (typeof BREATHS)[number]) => {
    const sounding = reedNote(harp, hole, breath);
    return `${hole} ${breath}${sounding === null ? "" : `, ${note(noteName(sounding, names))}`}`;
  };
  const reeds = reedsOf(harp.layout).map(
    ({ hole, breath }) => [tab({ hole, breath, ...plain }), named(hole, breath)] as const,
  );
  const bends = reedActions(harp.layout, PLAIN_AND_BENDS)
    .filter(({ action }) => action.technique === "bend")
    .map(
      ({ action, sounds }) =>
        [tab(action), `${say(tab(action))}, ${note(noteName(midi(harp.keyNote + sounds), names))}`] as const,
    );
  const triads = triadsOfWish(wishOfView(view, 440)).map(({ numeral }) => [numeral, numeral] as const);
  return (
    <div className="kept-things">
      <TickList
        legend="Reeds that stay"
        none="none"
        ticked={view.stays}
        options={reeds}
        onChange={(stays) => onView({ ...view, stays })}
      />
      <TickList
        legend="Chords that stay"
        none="This harp has no triad on three neighbouring holes."
        ticked={view.chords}
        options={chordsOf(harp)}
        onChange={(chords) => onView({ ...view, chords })}
      />
      <TickList
        legend="Bends that stay"
        none="This harp has no bends."
        ticked={view.bends}
        options={bends}
        onChange={(kept) => onView({ ...view, bends: kept })}
      />
      <TickList
        legend="Triads it must have on three neighbouring holes"
        none="Triads belong to a scale; there is none."
        ticked={view.triads}
        options={dedupe(triads)}
        onChange={(wanted) => onView({ ...view, triads: wanted })}
      />
    </div>
  );
}

const dedupe = (options: readonly (readonly [string, string])[]) => [...new Map(options)];

/** Triads on three neighbouring holes: "4-5-6 blow, C". */
function chordsOf(harp: Harp): readonly (readonly [string, string])[] {
  const scale = modeOn(pitchClass(harp.keyNote), "major", harp.key);
  return neighbourSonorities(harp, scale)
    .filter(({ holes, chordNames: [name = ""] }) => holes.length === 3 && /^[A-G][#b]*(M|m)(\/|$)/.test(name))
    .map(({ breath, holes, chordNames: [name = ""] }) => {
      const text = chordText({ breath, holes });
      return [text, `${text}, ${name.replace(/M(?=\/|$)/, "").replace(/\/.*$/, "")}`] as const;
    });
}
