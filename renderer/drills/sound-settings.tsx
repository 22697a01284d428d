import type { Settings } from "../store/settings-store.ts";
import { NumberChoice, RadioChoice } from "../ui/choice.tsx";

interface SoundSettingsProps {
  readonly settings: Settings;
  readonly onChange: (part: Partial<Settings>) => void;
}

/** Reference pitch, loudness, beat and delay. */
export function SoundSettings({ settings, onChange }: SoundSettingsProps) {
  return (
    <details>
      <summary>Sound</summary>
      <div className="drill-form">
        <NumberChoice
          legend="The harp's A"
          unit="Hz"
          value={settings.a4Hz}
          low={400}
          high={480}
          step={0.5}
          onChange={(a4Hz) => onChange({ a4Hz })}
        />
        <NumberChoice
          legend="Loudness"
          unit="dB, 0 is loudest"
          value={settings.loudnessDb}
          low={-60}
          high={0}
          step={1}
          onChange={(loudnessDb) => onChange({ loudnessDb })}
        />
        <NumberChoice
          legend="Delay of the sound"
          unit="ms, 0: as the sound check measured it"
          value={settings.latencyMs}
          low={0}
          high={1000}
          step={1}
          onChange={(latencyMs) => onChange({ latencyMs })}
        />
        <RadioChoice
          legend="Beat after the count-in"
          value={settings.beatWhilePlaying}
          options={[
            ["heard", "heard"],
            ["seen", "only seen"],
          ]}
          onChange={(beatWhilePlaying) => onChange({ beatWhilePlaying })}
        />
        <RadioChoice
          legend="Chords of a tune"
          value={settings.backing}
          options={[
            ["heard", "heard with it"],
            ["silent", "silent"],
          ]}
          onChange={(backing) => onChange({ backing })}
        />
      </div>
      <p className="soft">
        Keep headphones low and take breaks. If the microphone hears the loudspeaker, use headphones or let
        the beat be only seen.
      </p>
    </details>
  );
}
