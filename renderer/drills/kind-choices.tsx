import type { DrillKind } from "../../core/exercise/drill-spec.ts";
import * as backing from "./backing-parts.tsx";
import * as bends from "./bend-parts.tsx";
import * as breath from "./breath-parts.tsx";
import * as chords from "./chord-parts.tsx";
import * as counts from "./count-parts.tsx";
import { MoreChoices } from "./more-choices.tsx";
import type { Part, PartProps } from "./part.ts";
import * as range from "./range-parts.tsx";
import { RUNNING } from "./running-parts.tsx";

interface KindParts {
  /** In the order they are asked. */
  readonly first: readonly Part[];
  /** Folded away. */
  readonly more: readonly Part[];
}

/** Which choices each kind of drill has: all those the `exercise` command has for it. */
export const KIND_PARTS: Readonly<Record<DrillKind, KindParts>> = {
  scale: {
    first: [range.OCTAVES, range.DIRECTION, ...RUNNING],
    more: [range.FROM_DEGREE, range.START],
  },
  arpeggio: {
    first: [chords.ON_DEGREE, chords.CHORD_SIZE, range.OCTAVES, range.DIRECTION, ...RUNNING],
    more: [range.START],
  },
  progression: {
    first: [chords.NUMERALS, chords.CHORD_FIGURE, counts.REPEATS, ...RUNNING],
    more: [range.START],
  },
  backing: {
    first: [backing.BACKING_CHORDS, backing.CHORDS_OF_TUNE, backing.STROKES, counts.REPEATS],
    more: [backing.MOST_HOLES, backing.PARTIAL],
  },
  pattern: {
    first: [chords.PATTERN, range.OCTAVES, range.DIRECTION, ...RUNNING],
    more: [range.FROM_DEGREE, range.START],
  },
  bend: {
    first: [
      bends.BEND_FIGURE,
      bends.TECHNIQUE,
      bends.BEND_HOLE,
      bends.BEND_DEPTH,
      counts.REPEATS,
      bends.TARGET_SHOWN,
    ],
    more: [bends.BEND_BREATH, bends.HOLD, counts.REST, counts.ORDER],
  },
  "breath-pair": {
    first: [breath.FIRST_ACTION, breath.SECOND_ACTION, breath.ROUNDS, breath.ROUND_BEATS],
    more: [],
  },
  "hole-jumps": {
    first: [breath.JUMP, breath.JUMP_BREATH, range.DIRECTION, counts.REPEATS, ...RUNNING],
    more: [],
  },
  "one-breath": { first: [breath.RUN_BREATH, counts.REPEATS, ...RUNNING], more: [] },
  "long-tones": {
    first: [counts.TONE, counts.REST, range.OCTAVES, range.DIRECTION],
    more: [range.FROM_DEGREE, range.START],
  },
  "random-notes": {
    first: [counts.ASKED, counts.COUNT, range.OCTAVES, counts.ORDER],
    more: [counts.NOTE_BEATS, counts.CALL_BEATS, counts.LARGEST_LEAP, range.FROM_DEGREE, range.START],
  },
};

/** The choices that belong to the kind of drill chosen, and no others. */
export function KindChoices(props: PartProps) {
  const { kind } = props.choice;
  const { first, more } = KIND_PARTS[kind];
  return (
    <>
      <div className="drill-form">
        <Parts {...props} parts={first} />
      </div>
      {more.length > 0 && (
        <MoreChoices key={kind} words="More of this drill" parts={more} choice={props.choice}>
          <div className="drill-form">
            <Parts {...props} parts={more} />
          </div>
        </MoreChoices>
      )}
    </>
  );
}

/** Some questions one after the other. */
export function Parts({ parts, ...props }: PartProps & { readonly parts: readonly Part[] }) {
  return parts.map(({ Ask, fields }) => <Ask key={fields.join()} {...props} />);
}
