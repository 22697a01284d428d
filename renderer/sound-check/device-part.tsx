import type { SoundDevice } from "../audio/sound-device.ts";
import type { DevicesState, WayInUse } from "../audio/sound-devices.ts";
import { ListChoice } from "../ui/choice.tsx";

interface DevicePartProps {
  readonly devices: DevicesState;
  readonly disabled: boolean;
  readonly onInput: (chosen: SoundDevice | null) => void;
  readonly onOutput: (chosen: SoundDevice | null) => void;
}

/** Which microphone, and by what sound goes out. */
export function DevicePart({ devices, disabled, onInput, onOutput }: DevicePartProps) {
  return (
    <fieldset className="devices" disabled={disabled}>
      <legend className="only-read-aloud">Devices</legend>
      <WayChoice legend="Microphone" way={devices.input} onChoose={onInput} />
      {devices.canChooseOutput ? (
        <WayChoice legend="Sound goes out by" way={devices.output} onChoose={onOutput} />
      ) : (
        <p className="soft">
          Sound goes out by the system's own loudspeaker: this browser lets no other be chosen. Choose it in
          the system's settings.
        </p>
      )}
    </fieldset>
  );
}

const SYSTEM = "";

interface WayChoiceProps {
  readonly legend: string;
  readonly way: WayInUse;
  readonly onChoose: (chosen: SoundDevice | null) => void;
}

function WayChoice({ legend, way, onChoose }: WayChoiceProps) {
  const { chosen, used, isAway, present } = way;
  const named = present.filter(({ name }) => name !== "");
  const away = chosen !== null && (isAway || !named.some(({ id }) => id === used?.id));
  const systemName = chosen === null && used !== null && used.name !== "" ? ` (${used.name})` : "";
  return (
    <ListChoice
      legend={legend}
      value={chosen === null ? SYSTEM : away ? chosen.id : (used?.id ?? SYSTEM)}
      options={[
        [SYSTEM, `the system's own${systemName}`],
        ...(away ? [[chosen.id, `${chosen.name}${isAway ? ", not there" : ""}`] as const] : []),
        ...named.map(({ id, name }) => [id, name] as const),
      ]}
      onChange={(id) => onChoose(named.find((one) => one.id === id) ?? null)}
    />
  );
}
