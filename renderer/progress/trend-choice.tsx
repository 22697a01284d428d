import { ListChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { sameScope } from "./comparables.ts";
import type { Comparable, Order, ScopeKind, TrendsAsk, Weeks } from "./progress-view.ts";
import { WEEKS } from "./progress-view.ts";

const KINDS: readonly (readonly [ScopeKind, string])[] = [
  ["group", "a drill or phrase, at one tempo"],
  ["item", "a drill or phrase, at all tempos"],
  ["tune", "a tune"],
  ["position", "a position"],
  ["reed", "a reed action"],
  ["pair", "from one reed action to the next"],
  ["all", "everything"],
];

const ORDERS: readonly (readonly [Order, string])[] = [
  ["most practised", "most practised first"],
  ["newest", "newest first"],
];

interface TrendChoiceProps {
  readonly ask: TrendsAsk;
  readonly comparables: readonly Comparable[];
  readonly shown: Comparable | null;
  readonly onAsk: (ask: TrendsAsk) => void;
}

/** What is compared, and over which days. */
export function TrendChoice({ ask, comparables, shown, onAsk }: TrendChoiceProps) {
  const { say } = useWriting();
  const place = shown === null ? -1 : comparables.findIndex(({ scope }) => sameScope(scope, shown.scope));
  return (
    <div className="row choices">
      <ListChoice
        legend="Compare"
        value={ask.kind}
        options={KINDS}
        onChange={(kind) => onAsk({ ...ask, kind, scope: null })}
      />
      {comparables.length > 1 && (
        <div className="which">
          <ListChoice
            legend="Which"
            value={place}
            options={comparables.map(({ words, days }, at) => [at, `${say(words)} (${daysCount(days)})`])}
            onChange={(at) => onAsk({ ...ask, scope: comparables[at]?.scope ?? null })}
          />
        </div>
      )}
      <WeeksChoice weeks={ask.weeks} onChange={(weeks) => onAsk({ ...ask, weeks })} />
      {comparables.length > 2 && (
        <ListChoice
          legend="Order"
          value={ask.order}
          options={ORDERS}
          onChange={(order) => onAsk({ ...ask, order, scope: shown?.scope ?? null })}
        />
      )}
    </div>
  );
}

const daysCount = (days: number) => `${days} ${days === 1 ? "day" : "days"}`;

const WEEK_WORDS: Readonly<Record<string, string>> = {
  4: "the last 4 weeks",
  8: "the last 8 weeks",
  26: "half a year",
  52: "a year",
  all: "everything",
};

interface WeeksChoiceProps {
  readonly weeks: Weeks;
  readonly onChange: (weeks: Weeks) => void;
}

/** How far back is looked. */
export function WeeksChoice({ weeks, onChange }: WeeksChoiceProps) {
  const named = (one: Weeks) => String(one ?? "all");
  return (
    <ListChoice
      legend="Days"
      value={named(weeks)}
      options={WEEKS.map((one) => [named(one), WEEK_WORDS[named(one)] ?? ""])}
      onChange={(name) => onChange(WEEKS.find((one) => named(one) === name) ?? null)}
    />
  );
}
