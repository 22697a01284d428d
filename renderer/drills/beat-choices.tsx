import { DANCES, type Dance } from "../../core/exercise/dance-grids.ts";
import { FASTEST, NOTE_VALUES, type NoteValue, SLOWEST } from "../../core/tune/tempo.ts";
import { ListChoice, NumberChoice } from "../ui/choice.tsx";
import { danceOf, withDance } from "./dance-choice.ts";
import { type PartProps, part } from "./part.ts";

const NOTE_VALUE_WORDS: Readonly<Record<NoteValue, string>> = {
  "1/8": "quaver",
  "1/4": "crotchet",
  "3/8": "dotted crotchet",
  "1/2": "minim",
};

/** What each dance's running notes are. */
const DANCE_WORDS: Readonly<Record<Dance, string>> = {
  reel: "reel: running quavers",
  jig: "jig: triplets",
  "slip-jig": "slip jig: triplets in nine",
  slide: "slide: triplets in twelve",
  hornpipe: "hornpipe: swung quavers",
  polka: "polka: quavers in two",
  strathspey: "strathspey: dotted quavers",
  waltz: "waltz: quavers in three",
};

/** The dance, the tempo and the note value it counts. */
export function BeatChoices({ choice, onChange }: PartProps) {
  return (
    <>
      <ListChoice
        legend="As in a dance"
        value={danceOf(choice)}
        options={[["none", "none"], ...DANCES.map((dance) => [dance, DANCE_WORDS[dance]] as const)]}
        onChange={(dance) => onChange(withDance(choice, dance))}
      />
      <NumberChoice
        legend="Tempo"
        unit="beats a minute"
        value={choice.bpm}
        low={SLOWEST}
        high={FASTEST}
        step={1}
        onChange={(bpm) => onChange({ bpm })}
      />
      <ListChoice
        legend="A beat is a"
        value={choice.noteValue}
        options={NOTE_VALUES.map((value) => [value, NOTE_VALUE_WORDS[value]] as const)}
        onChange={(noteValue) => onChange({ noteValue })}
      />
    </>
  );
}

function BarChoice({ choice, onChange }: PartProps) {
  const counts = Array.from({ length: 16 }, (_, place) => place + 1);
  const usual = choice.noteValue === "3/8" ? 2 : 4;
  return (
    <ListChoice
      legend="Beats to the bar"
      value={choice.beatsPerBar}
      options={[[0, `usual: ${usual}`], ...counts.map((count) => [count, String(count)] as const)]}
      onChange={(beatsPerBar) => onChange({ beatsPerBar })}
    />
  );
}

function CountIn({ choice, onChange }: PartProps) {
  return (
    <NumberChoice
      legend="Count-in"
      unit="beats"
      value={choice.countInBeats}
      low={0}
      high={16}
      step={1}
      onChange={(countInBeats) => onChange({ countInBeats })}
    />
  );
}

/** What else there is to say of the beat. */
export const MORE_OF_BEAT = [part(BarChoice, "beatsPerBar"), part(CountIn, "countInBeats")] as const;
