import type { ReactNode } from "react";
import { FIRST_SETTINGS, type Settings } from "../store/settings-store.ts";

/** Changes settings at once; the words say what was changed, for taking it back. */
export type ChangeSettings = (words: string, part: Partial<Settings>) => void;

export interface GroupProps {
  readonly settings: Settings;
  readonly onChange: ChangeSettings;
}

interface FrameProps extends GroupProps {
  readonly title: string;
  /** What belongs to the group. */
  readonly fields: readonly (keyof Settings)[];
  readonly children: ReactNode;
}

/** Settings that belong together, and the way back to how they were at first. */
export function Group({ title, fields, settings, onChange, children }: FrameProps) {
  const first = Object.fromEntries(fields.map((field) => [field, FIRST_SETTINGS[field]]));
  const isFirst = fields.every(
    (field) => JSON.stringify(settings[field]) === JSON.stringify(FIRST_SETTINGS[field]),
  );
  return (
    <section className="setting-group" aria-label={title}>
      <div className="row">
        <h2>{title}</h2>
        <button type="button" disabled={isFirst} onClick={() => onChange(`${title}, as at first`, first)}>
          As it was at first<span className="only-read-aloud">: {title}</span>
        </button>
      </div>
      {children}
    </section>
  );
}
