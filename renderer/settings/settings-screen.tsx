import { type ReactNode, useEffect, useRef, useState } from "react";
import type { Settings } from "../store/settings-store.ts";
import { CAUTIONS } from "../ui/cautions.ts";
import type { ChangeSettings } from "./group.tsx";
import type { Keeping } from "./keeping.ts";
import { KeptGroup } from "./kept-group.tsx";
import { KeysGroup } from "./keys-group.tsx";
import { LookGroup } from "./look-group.tsx";
import { PlanGroup } from "./plan-group.tsx";
import { SoundGroup } from "./sound-group.tsx";
import { WritingGroup } from "./writing-group.tsx";
import "./settings.css";

interface SettingsScreenProps {
  readonly settings: Settings;
  readonly onChange: (part: Partial<Settings>) => void;
  readonly onHearBeat: () => Promise<void>;
  readonly keeping: Keeping;
  /** What else can be done with all that is kept: archives and backups. */
  readonly archives?: ReactNode;
  /** What can be done besides, under the groups. */
  readonly children?: ReactNode;
}

/** A plain form: changes apply at once and can be taken back. */
export function SettingsScreen({
  settings,
  onChange,
  onHearBeat,
  keeping,
  archives,
  children,
}: SettingsScreenProps) {
  const { done, change, undo } = useChanges(settings, onChange);
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => title.current?.focus(), []);
  const last = done.at(-1);
  return (
    <main className="settings">
      <h1 ref={title} tabIndex={-1}>
        Settings
      </h1>
      <div className="setting-groups">
        <div>
          <LookGroup settings={settings} onChange={change} />
          <WritingGroup settings={settings} onChange={change} />
          <SoundGroup settings={settings} onChange={change} onHearBeat={onHearBeat} />
          <PlanGroup settings={settings} onChange={change} />
          <KeptGroup settings={settings} onChange={change} keeping={keeping}>
            {archives}
          </KeptGroup>
        </div>
        <div>
          <KeysGroup settings={settings} onChange={change} />
          <Cautions />
          {children}
        </div>
      </div>
      <p className="setting-undo row">
        <button type="button" disabled={last === undefined} onClick={undo}>
          Undo
        </button>
        <span role="status">
          {last === undefined ? "Changes apply at once and are kept." : `Changed: ${last.words}`}
        </span>
      </p>
    </main>
  );
}

function Cautions() {
  return (
    <section className="setting-group" aria-label="Cautions">
      <h2>Cautions</h2>
      {CAUTIONS.map(({ risk, words }) => (
        <p key={risk}>
          <strong>{risk}.</strong> {words}
        </p>
      ))}
    </section>
  );
}

interface Change {
  readonly words: string;
  readonly before: Partial<Settings>;
}

/** What was changed since the room was entered, the latest last, and the way back. */
function useChanges(settings: Settings, onChange: SettingsScreenProps["onChange"]) {
  const [done, setDone] = useState<readonly Change[]>([]);
  const change: ChangeSettings = (words, part) => {
    const before = Object.fromEntries(
      Object.keys(part).map((field) => [field, settings[field as keyof Settings]]),
    ) as Partial<Settings>;
    setDone((others) => {
      const last = others.at(-1);
      // Typing a number is one change, not one for each digit.
      const goesOn = last?.words === words && sameFields(last.before, before) && isTyped(part);
      return goesOn ? others : [...others, { words, before }];
    });
    onChange(part);
  };
  const undo = () => {
    const last = done.at(-1);
    if (last === undefined) return;
    setDone((others) => others.slice(0, -1));
    onChange(last.before);
  };
  return { done, change, undo };
}

const sameFields = (one: object, other: object) => Object.keys(one).join() === Object.keys(other).join();
const isTyped = (part: Partial<Settings>) => "a4Hz" in part || "loudnessDb" in part || "takesLimitMb" in part;
