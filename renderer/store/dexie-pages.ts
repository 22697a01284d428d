import { Dexie } from "dexie";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { ReedpathDatabase } from "./database.ts";
import type { HistoryLine } from "./history-entry.ts";
import type { AttemptFilter, Facets, PageQuery, Place } from "./history-store.ts";
import { facetsOf, lineFits, newestFirst, subjectFits } from "./line-order.ts";
import { lineOfRow } from "./line-rows.ts";
import type { LineRow, SubjectRow } from "./rows.ts";
import { stoppableReading } from "./stoppable-reading.ts";

/** Where more than one attempt in so many fits, going through them by date finds a page sooner than going subject by subject. */
const FEW = 25;
/** Lines of a subject read at a time. */
const RUN = 12;

/**
 * Reading lines page by page. A filter first looks through the subjects, of which there are few: they tell how many attempts fit,
 * and which subjects are worth reading.
 */
export class DexiePages {
  constructor(private readonly database: ReedpathDatabase) {}

  async page({ filter, before, limit }: PageQuery, signal?: AbortSignal): Promise<readonly HistoryLine[]> {
    const { lines, subjects } = this.database;
    return stoppableReading(this.database, [lines, subjects], signal, async () => {
      if (filter.starred === true) return this.byDate(this.starred(filter, before), filter, before, limit);
      if (!asksOfSubject(filter)) return this.byDate(this.dated(filter, before), filter, before, limit);
      const { fitting, share } = await this.subjectsOf(filter);
      if (fitting.length === 0) return [];
      if (share > 1 / FEW) return this.byDate(this.dated(filter, before), filter, before, limit);
      return this.bySubject(fitting, filter, before, limit);
    });
  }

  async count(filter: AttemptFilter, signal?: AbortSignal): Promise<number> {
    const { lines, subjects, days } = this.database;
    return stoppableReading(this.database, [lines, subjects, days], signal, async () => {
      if (filter.starred === true) {
        const rows = await this.starred(filter, null).toArray();
        return rows.filter((row) => lineFits(filter, lineOfRow(row))).length;
      }
      const dated = filter.from !== undefined || filter.to !== undefined;
      if (!asksOfSubject(filter) && dated) {
        const within = await days
          .where("day")
          .between(...bounds(filter), true, true)
          .toArray();
        return within.reduce((sum, { attempts }) => sum + attempts, 0);
      }
      const { fitting } = await this.subjectsOf(filter);
      if (!dated) return fitting.reduce((sum, { attempts }) => sum + attempts, 0);
      const counts = await Promise.all(fitting.map(({ id }) => this.ofSubject(id, filter, null).count()));
      return counts.reduce((sum, one) => sum + one, 0);
    });
  }

  async facets(): Promise<Facets> {
    return facetsOf(await this.database.subjects.toArray());
  }

  private async subjectsOf(filter: AttemptFilter) {
    const all = await this.database.subjects.toArray();
    const fitting = all.filter((subject) => subjectFits(filter, subject));
    const attempts = (of: readonly SubjectRow[]) => of.reduce((sum, one) => sum + one.attempts, 0);
    return { fitting, share: attempts(fitting) / Math.max(1, attempts(all)) };
  }

  private dated(filter: AttemptFilter, before: Place | null): Rising {
    const [from, to] = bounds(filter);
    return this.database.lines
      .where("[day+atEpochMs]")
      .between([from, Dexie.minKey], upper(to, before), true, true);
  }

  private starred(filter: AttemptFilter, before: Place | null): Rising {
    const [from, to] = bounds(filter);
    return this.database.lines
      .where("[starred+day+atEpochMs]")
      .between([1, from, Dexie.minKey], [1, ...upper(to, before)], true, true);
  }

  private ofSubject(subject: number, filter: AttemptFilter, before: Place | null): Rising {
    const [from, to] = bounds(filter);
    return this.database.lines
      .where("[subject+day+atEpochMs]")
      .between([subject, from, Dexie.minKey], [subject, ...upper(to, before)], true, true);
  }

  /** Goes back through a collection that is in the order of the list. */
  private async byDate(
    rising: Rising,
    filter: AttemptFilter,
    before: Place | null,
    limit: number,
  ): Promise<readonly HistoryLine[]> {
    const fits = (row: LineRow) => isAfter(before, row) && lineFits(filter, lineOfRow(row));
    const falling = rising.reverse().filter(fits);
    const rows = limit === Number.POSITIVE_INFINITY ? falling : falling.limit(limit);
    return (await rows.toArray()).map(lineOfRow);
  }

  /** Joins the newest lines of each subject until the page is full. */
  private async bySubject(
    subjects: readonly SubjectRow[],
    filter: AttemptFilter,
    before: Place | null,
    limit: number,
  ): Promise<readonly HistoryLine[]> {
    const runs = await Promise.all(subjects.map(({ id }) => this.run(id, filter, before)));
    const page: HistoryLine[] = [];
    while (page.length < limit) {
      const next = runs.filter(({ rows }) => rows.length > 0).sort((a, b) => orderOf(a, b))[0];
      const row = next?.rows.shift();
      if (next === undefined || row === undefined) break;
      page.push(lineOfRow(row));
      if (next.rows.length === 0 && next.more) Object.assign(next, await this.run(next.subject, filter, row));
    }
    return page;
  }

  private async run(subject: number, filter: AttemptFilter, before: Place | null): Promise<Run> {
    const rows = await this.ofSubject(subject, filter, before)
      .reverse()
      .filter((row) => isAfter(before, row))
      .limit(RUN)
      .toArray();
    return { subject, rows, more: rows.length === RUN };
  }
}

/** Lines in the order opposite to the list's. */
type Rising = ReturnType<ReedpathDatabase["lines"]["toCollection"]>;

/** Lines of one subject still to be given, newest first. */
interface Run {
  readonly subject: number;
  rows: LineRow[];
  more: boolean;
}

const orderOf = (one: Run, other: Run): number => {
  const [a, b] = [one.rows[0], other.rows[0]];
  return a === undefined || b === undefined ? 0 : newestFirst(a, b);
};

/** Lines of one instant come together: those up to the last one given are passed over. */
const isAfter = (before: Place | null, row: LineRow): boolean =>
  before === null || newestFirst(before, row) < 0;

const asksOfSubject = ({ title = "", harp, position, technique, tuneId }: AttemptFilter): boolean =>
  title.trim() !== "" || [harp, position, technique, tuneId].some((asked) => asked !== undefined);

type Bound = PracticeDay | typeof Dexie.minKey | typeof Dexie.maxKey;

const bounds = ({ from, to }: AttemptFilter): [Bound, Bound] => [from ?? Dexie.minKey, to ?? Dexie.maxKey];

function upper(to: Bound, before: Place | null): [unknown, unknown] {
  return before === null ? [to, Dexie.maxKey] : [before.day, before.atEpochMs];
}
