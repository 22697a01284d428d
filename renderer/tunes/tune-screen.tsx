import { useMemo, useState } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { lackingWords, onHarpWords } from "../../core/exercise/on-harp-words.ts";
import { type LadderRule, ladderState, type RungState } from "../../core/exercise/tune-ladder.ts";
import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import type { Abilities, ReedAction } from "../../core/instrument/reed-actions.ts";
import {
  type TuneStatus,
  type TuneTry,
  tuneStanding,
} from "../../core/progress/repertoire/repertoire-status.ts";
import type { Span } from "../../core/tune/phrases.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { keyInWords, metreInWords } from "../../core/tune/tune-list.ts";
import type { Settings } from "../store/settings-store.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import { ListChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { BreathPart } from "./breath-part.tsx";
import { ExportButtons } from "./export-buttons.tsx";
import { HarpPart } from "./harp-part.tsx";
import { LadderPart } from "./ladder-part.tsx";
import { NotePart } from "./note-part.tsx";
import { NowLine } from "./now-line.tsx";
import { PhrasePart } from "./phrase-part.tsx";
import { PrintSheet } from "./print-sheet.tsx";
import { StandingPart } from "./standing-part.tsx";
import { TuneSheet } from "./tune-sheet.tsx";
import {
  danceTempo,
  type OpenTune,
  planSetting,
  rungStretch,
  sheetExercise,
  stretchExercise,
  type TuneRules,
} from "./tune-view.ts";
import type { TuneWork } from "./tune-work.ts";
import { usePlan } from "./use-plan.ts";
import { WeightsPart } from "./weights-part.tsx";
import "./tune.css";

interface TuneScreenProps {
  readonly open: OpenTune;
  readonly isOwn: boolean;
  /** The tune's own harp comes first; else the best of these. */
  readonly harps: readonly Harp[];
  readonly usualLayout: Layout;
  readonly ownedHarps: readonly Harp[];
  readonly abilities: Abilities;
  readonly rules: TuneRules;
  readonly onRules: (part: Partial<Pick<Settings, "ladder" | "pathWeights">>) => void;
  /** Attempts at its rungs, oldest first. */
  readonly tries: readonly TuneTry[];
  readonly nowEpochMs: number;
  readonly work: TuneWork;
  readonly onStudy: (study: TuneStudy) => void;
  readonly onPractise: (exercise: Exercise) => void;
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
  readonly onEdit: () => void;
  readonly onLeave: () => void;
}

/** One tune: what to do now, the sheet with its tab, and under it everything that can be set. */
export function TuneScreen(props: TuneScreenProps) {
  const { open, harps, abilities, rules, work } = props;
  const setting = useMemo(() => planSetting(open, harps, abilities, rules), [open, harps, abilities, rules]);
  const { plan, trouble } = usePlan(work, setting);
  return (
    <main className="tune">
      <Head open={open} plan={plan} />
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble}
        </p>
      )}
      {plan === null ? (
        trouble === null && <p role="status">Laying it under the breath …</p>
      ) : (
        <Planned {...props} plan={plan} />
      )}
    </main>
  );
}

const TEMPO_FROM = { tune: "", dance: ", usual for the dance", neither: ", as nothing is said" } as const;

function Head({ open, plan }: { readonly open: OpenTune; readonly plan: TunePlan | null }) {
  const { tune } = open;
  const { chord, say } = useWriting();
  const tempo = danceTempo(open);
  const said = open.study.danceBpm === undefined ? TEMPO_FROM[tune.tempoFrom] : "";
  const facts = [
    chord(keyInWords(tune.key)),
    metreInWords(tune.metre),
    tune.dance?.replace("-", " ") ?? tune.rhythm,
  ];
  const from = tune.fields.filter(({ kind }) => KEPT_IN_SIGHT.includes(kind));
  return (
    <>
      <div className="where">
        <h1>{tune.title}</h1>
        <span>
          {facts.filter((fact) => fact !== null && fact !== "").join(" · ")} · {tempoSign(tempo)}
          {said}
        </span>
      </div>
      {plan !== null && <p className="on-harp">{say(placeInWords(open.tune, plan))}</p>}
      {from.length > 0 && <p className="soft source">{from.map(({ text }) => text).join(" · ")}</p>}
      {!tune.key.sure && (
        <p className="notice">
          The key line says {chord(keyInWords(tune.key))}; the tune ends on another note. Position and degrees
          follow the key line.
        </p>
      )}
      {tune.remarks.length > 0 && (
        <details className="remarks">
          <summary>
            {tune.remarks.length} {tune.remarks.length === 1 ? "remark" : "remarks"} on reading it
          </summary>
          <ul>
            {tune.remarks.map(({ place, words }) => (
              <li key={`${place?.line} ${place?.column} ${words}`}>
                {place === null ? "" : `Line ${place.line}, column ${place.column}: `}
                {words}
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

/** "D harp, 1st position, an octave up. This harp lacks C#6 (bar 4): ..." */
function placeInWords(tune: Tune, plan: TunePlan): string {
  const place = onHarpWords(tune, plan);
  const lacking = lackingWords(tune, plan);
  return lacking === "" ? `${place}.` : `${place}. This harp lacks ${lacking}: the sheet leaves them out.`;
}

/** Who made it and where it is from stays with the tune. */
const KEPT_IN_SIGHT: readonly string[] = ["composer", "source", "transcription", "copyright"];

function Planned(props: TuneScreenProps & { readonly plan: TunePlan }) {
  const { open, plan, abilities, rules, tries, isOwn, onRules, onStudy, onPractise, onEdit } = props;
  const [chosen, setChosen] = useState(0);
  const { ladder: rule, weights } = rules;
  const states = useMemo(
    () => ladderState(plan.ladder, tries, new Set(open.study.heard ?? []), rule, danceTempo(open)),
    [plan, tries, open, rule],
  );
  const now = states.find(({ state }) => state === "now") ?? null;
  const made = useMemo(() => sheetExercise(open, plan, abilities), [open, plan, abilities]);
  const change = (part: Partial<TuneStudy>) => onStudy({ ...open.study, ...part });
  const practise = (span: Span, words: string, tempoShare: number, times: number, rung: string | null) => {
    const exercise = stretchExercise(open, plan, abilities, { span, words, tempoShare, times, rung });
    if (exercise.kind === "exercise") onPractise(exercise.exercise);
  };
  const climb = (one: RungState) => {
    const { span, words, tempoShare, times, rung } = rungStretch(one.rung);
    practise(span, words, tempoShare, times, rung);
  };
  return (
    <>
      <NowLine {...props} now={now} onClimb={climb} />
      {made.kind === "impossible" ? (
        <p className="notice" role="alert">
          This cannot be played: {made.reason}.
        </p>
      ) : (
        <TuneSheet open={open} plan={plan} exercise={made.exercise} chosen={chosen} onChoose={setChosen} />
      )}
      <PrintSheet tune={open.tune} plan={plan} />
      {open.voices.length > 1 && (
        <div className="no-print">
          <ListChoice
            legend="Voice"
            value={open.voices.find((voice) => voice === open.study.voice) ?? open.voices[0] ?? ""}
            options={open.voices.map((voice) => [voice, voice] as const)}
            onChange={(voice) => change({ voice, pins: [], phrases: [] })}
          />
        </div>
      )}
      <div className="tune-parts">
        <StandingPart
          standing={standing(open, tries, rule, props.nowEpochMs)}
          nowEpochMs={props.nowEpochMs}
          onStatus={(status) => onStudy(withStatus(open.study, status))}
        />
        <LadderPart
          states={states}
          danceBpm={danceTempo(open)}
          rule={rule}
          onRule={(ladder) => onRules({ ladder })}
          onClimb={climb}
        />
        <NotePart
          tune={open.tune}
          plan={plan}
          chosen={chosen}
          pins={open.study.pins ?? []}
          onChoose={setChosen}
          onPin={(written, action) => change({ pins: withPin(open.study.pins ?? [], written, action) })}
        />
        <BreathPart plan={plan} even={open.study.even ?? false} onEven={(even) => change({ even })} />
        <PhrasePart open={open} plan={plan} chosen={chosen} onChange={change} onPractise={practise} />
        <WeightsPart weights={weights} onWeights={(pathWeights) => onRules({ pathWeights })} />
        <HarpPart {...props} onChange={change} />
      </div>
      <p className="what-now no-print">
        <button type="button" onClick={() => window.print()}>
          Print the sheet
        </button>{" "}
        <ExportButtons open={open} plan={plan} />{" "}
        <button type="button" onClick={onEdit}>
          {isOwn ? "Change the tune" : "Change a copy"}
        </button>
      </p>
    </>
  );
}

function standing(open: OpenTune, tries: readonly TuneTry[], rule: LadderRule, nowEpochMs: number) {
  const { heard, status } = open.study;
  const dance = danceTempo(open);
  return tuneStanding({ tries, heard: heard?.length ?? 0, dance, own: status ?? null }, rule, nowEpochMs);
}

function withStatus({ status: _, ...study }: TuneStudy, status: TuneStatus | undefined): TuneStudy {
  return status === undefined ? study : { ...study, status };
}

type Pins = NonNullable<TuneStudy["pins"]>;

function withPin(pins: Pins, written: number, action: ReedAction | null): Pins {
  const others = pins.filter((pin) => pin.written !== written);
  return action === null ? others : [...others, { written, action }];
}
