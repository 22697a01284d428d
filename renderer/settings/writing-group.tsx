import { RadioChoice } from "../ui/choice.tsx";
import { FIRST_HARP, harpOfChoice } from "../ui/chosen-harp.ts";
import { HarpPicture } from "../ui/harp-picture.tsx";
import { useWriting } from "../ui/writing.ts";
import { Group, type GroupProps } from "./group.tsx";

const SAMPLE_HARP = harpOfChoice(FIRST_HARP, 440);

/** How notes and holes are written, and which way round the harp is drawn. */
export function WritingGroup({ settings, onChange }: GroupProps) {
  const { tab } = useWriting();
  return (
    <Group
      title="Notes, tab and harp"
      fields={["noteNames", "tabForm", "bendMarks", "holeOne"]}
      settings={settings}
      onChange={onChange}
    >
      <RadioChoice
        legend="Names of notes"
        value={settings.noteNames}
        options={[
          ["letters", "C D E, B♭ B"],
          ["syllables", "do re mi, si♭ si"],
          ["german", "German: C D E, B H"],
        ]}
        onChange={(noteNames) => onChange("Names of notes", { noteNames })}
      />
      <RadioChoice
        legend="Tab, blow and draw"
        value={settings.tabForm}
        options={[
          ["signs", "4 and -4"],
          ["both signs", "+4 and -4"],
          ["arrows", "4↑ and 4↓"],
          ["letters", "4B and 4D"],
        ]}
        onChange={(tabForm) => onChange("Tab", { tabForm })}
      />
      <RadioChoice
        legend="Bends, a mark for each semitone"
        value={settings.bendMarks}
        options={[
          ["quotes", "quotes: '"],
          ["strokes", "strokes: /"],
        ]}
        onChange={(bendMarks) => onChange("Bends", { bendMarks })}
      />
      <RadioChoice
        legend="Hole 1 of the harp"
        value={settings.holeOne}
        options={[
          ["left", "on the left"],
          ["right", "on the right"],
        ]}
        onChange={(holeOne) => onChange("Hole 1 of the harp", { holeOne })}
      />
      <p>
        So it looks: {tab("4")} out, {tab("-4")} in, {tab("-3''")} bent by two semitones, {tab("6o")} an
        overblow.
      </p>
      <HarpPicture harp={SAMPLE_HARP} spelling={SPELLING} next={null} />
    </Group>
  );
}

/** Of a G harp. */
const SPELLING = ["G", "A", "B", "C", "D", "E", "F#"];
