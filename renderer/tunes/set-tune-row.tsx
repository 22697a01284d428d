import type { Harp } from "../../core/instrument/harp.ts";
import { harpName } from "../../core/instrument/harp.ts";
import type { PlannedTune } from "../../core/progress/repertoire/repertoire-dance.ts";
import type { TuneChange } from "../../core/progress/repertoire/repertoire-edit.ts";
import { type HarpPlace, isPlain } from "../../core/progress/repertoire/repertoire-lay.ts";
import { TIMES_THROUGH } from "../../core/progress/repertoire/repertoire-set-list.ts";
import {
  lastsInWords,
  placeInWords,
  troubleInWords,
} from "../../core/progress/repertoire/repertoire-words.ts";
import { FASTEST, SLOWEST, type Tempo, tempoSign } from "../../core/tune/tempo.ts";
import { ListChoice, NumberChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";

export interface SetTuneRowProps {
  readonly planned: PlannedTune;
  /** Place in its set, from 0. */
  readonly place: number;
  readonly isPending: boolean;
  readonly isOpen: boolean;
  readonly onToggle: () => void;
  readonly onChange: (change: TuneChange) => void;
  readonly onMove: (by: 1 | -1) => void;
  readonly onTakeOut: () => void;
  readonly onOpenTune: () => void;
}

/** One tune of a set in one line; opened, what can be changed of it. */
export function SetTuneRow(props: SetTuneRowProps) {
  const { planned, place, isOpen, onToggle } = props;
  const { tune } = planned;
  return (
    <li className="set-tune" data-tune={tune.id}>
      <div className="set-tune-line">
        <button type="button" className="open" aria-expanded={isOpen} onClick={onToggle}>
          {place + 1}. {tune.title}
        </button>
        <Facts {...props} />
      </div>
      {isOpen && <Choices {...props} />}
    </li>
  );
}

function Facts({ planned, isPending }: SetTuneRowProps) {
  const { say } = useWriting();
  const { tune, laid, tempo, place: its, seconds } = planned;
  if (isPending) return <span className="soft">being worked out …</span>;
  if (laid === null || its === null || tempo === null)
    return <span>this tune is no longer there: take it out, or bring it in again</span>;
  const trouble = troubleInWords(its);
  return (
    <>
      <span>
        {tune.times} {tune.times === 1 ? "time" : "times"} · {tempoSign(tempo)}
      </span>
      <span>{say(placeInWords(its))}</span>
      {trouble !== "" && <span className="bends">{say(`${trouble}: ${withoutInWords(planned)}`)}</span>}
      <span className="lasts">{lastsInWords(seconds)}</span>
    </>
  );
}

/** Which harp plays it with plain notes alone, where one does. */
function withoutInWords({ laid, noHarpPlain }: PlannedTune): string {
  const plain = laid?.onEach.find(isPlain);
  return noHarpPlain || plain === undefined
    ? "none of the harps plays it without"
    : `the ${harpName(plain.harp)} plays it without`;
}

function Choices({ planned, onChange, onMove, onTakeOut, onOpenTune }: SetTuneRowProps) {
  const { say } = useWriting();
  const { tune, laid, tempo } = planned;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a group of fields within a line of a list
    <div className="set-tune-choices" role="group" aria-label={tune.title}>
      <NumberChoice
        legend="Played through"
        unit="times"
        value={tune.times}
        {...TIMES_THROUGH}
        step={1}
        onChange={(times) => onChange({ times: Math.round(times) })}
      />
      {laid !== null && tempo !== null && (
        <>
          <NumberChoice
            legend="Tempo"
            unit={noteSign(tempo)}
            value={tempo.bpm}
            low={SLOWEST}
            high={FASTEST}
            step={1}
            onChange={(bpm) => onChange({ bpm: bpm === laid.tempo.bpm ? undefined : bpm })}
          />
          <ListChoice
            legend="Harp"
            value={tune.harp === undefined ? AS_USUAL : harpKey(planned)}
            options={[
              [
                AS_USUAL,
                laid.chosen && tune.harp === undefined
                  ? "the one it is learned on"
                  : "the one it lies best on",
              ],
              ...harpChoices(planned).map((one) => [one.key, say(choiceInWords(one))] as const),
            ]}
            onChange={(key) => onChange({ harp: harpOf(planned, key) })}
          />
        </>
      )}
      <p className="row">
        <button type="button" onClick={() => onMove(-1)}>
          Up
        </button>
        <button type="button" onClick={() => onMove(1)}>
          Down
        </button>
        <button type="button" onClick={onTakeOut}>
          Take out
        </button>
        {laid !== null && (
          <button type="button" onClick={onOpenTune}>
            Open the tune
          </button>
        )}
      </p>
    </div>
  );
}

const AS_USUAL = "as usual";

const harpKey = ({ place }: PlannedTune): string => place?.key ?? AS_USUAL;

/** The harps there are, and the one chosen where it is none of them. */
function harpChoices({ tune, laid, place }: PlannedTune): readonly HarpPlace[] {
  const each = laid?.onEach ?? [];
  const other = tune.harp === undefined || place === null || each.some(({ key }) => key === place.key);
  return other || place === null ? each : [place, ...each];
}

function harpOf(planned: PlannedTune, key: string): Harp | undefined {
  return harpChoices(planned).find((one) => one.key === key)?.harp;
}

const choiceInWords = (place: HarpPlace): string =>
  `${harpName(place.harp)}: ${isPlain(place) ? "no bends" : troubleInWords(place)}`;

/** "♩. =": what the number counts. */
const noteSign = (tempo: Tempo) => tempoSign(tempo).replace(/ = .*/, " a minute");
