import { useState } from "react";
import { NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { Group, type GroupProps } from "./group.tsx";

interface SoundGroupProps extends GroupProps {
  /** Sounds a few beats. @throws whatever keeps them from sounding */
  readonly onHearBeat: () => Promise<void>;
}

/** The harp's A, how loud everything is, and the beat. */
export function SoundGroup({ settings, onChange, onHearBeat }: SoundGroupProps) {
  const [trouble, setTrouble] = useState<string | null>(null);
  const hear = () =>
    onHearBeat().then(
      () => setTrouble(null),
      (error: unknown) => setTrouble(error instanceof Error ? error.message : String(error)),
    );
  return (
    <Group
      title="Sound"
      fields={["a4Hz", "loudnessDb", "beatWhilePlaying", "backing", "beatSound", "barBeat", "microphoneAway"]}
      settings={settings}
      onChange={onChange}
    >
      <NumberChoice
        legend="The harp's A"
        unit="Hz"
        value={settings.a4Hz}
        low={400}
        high={480}
        step={0.5}
        onChange={(a4Hz) => onChange("The harp's A", { a4Hz })}
      />
      <NumberChoice
        legend="Loudness"
        unit="dB, 0 is loudest"
        value={settings.loudnessDb}
        low={-60}
        high={0}
        step={1}
        onChange={(loudnessDb) => onChange("Loudness", { loudnessDb })}
      />
      <RadioChoice
        legend="Sound of the beat"
        value={settings.beatSound}
        options={[
          ["click", "click"],
          ["wood", "wood"],
          ["tone", "tone"],
        ]}
        onChange={(beatSound) => onChange("Sound of the beat", { beatSound })}
      />
      <RadioChoice
        legend="First beat of a bar"
        value={settings.barBeat}
        options={[
          ["stressed", "higher and louder"],
          ["as the others", "like the others"],
        ]}
        onChange={(barBeat) => onChange("First beat of a bar", { barBeat })}
      />
      <p className="row">
        <button type="button" onClick={() => void hear()}>
          Hear the beat
        </button>
        {trouble !== null && (
          <span className="notice" role="alert">
            The beat cannot be heard: {trouble}. See the sound check.
          </span>
        )}
      </p>
      <RadioChoice
        legend="Beat after the count-in"
        value={settings.beatWhilePlaying}
        options={[
          ["heard", "heard"],
          ["seen", "only seen"],
        ]}
        onChange={(beatWhilePlaying) => onChange("Beat after the count-in", { beatWhilePlaying })}
      />
      <RadioChoice
        legend="Chords of a tune"
        value={settings.backing}
        options={[
          ["heard", "heard with it"],
          ["silent", "silent"],
        ]}
        onChange={(backing) => onChange("Chords of a tune", { backing })}
      />
      <RadioChoice
        legend="An open microphone"
        value={settings.microphoneAway}
        options={[
          ["closes when hidden", "closes when this window is hidden"],
          ["closes when behind", "closes when another window is in front"],
          ["stays open", "stays open"],
        ]}
        onChange={(microphoneAway) => onChange("An open microphone", { microphoneAway })}
      />
    </Group>
  );
}
