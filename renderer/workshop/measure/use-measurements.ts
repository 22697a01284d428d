import { useCallback, useEffect, useRef, useState } from "react";
import type { KeptMeasurement } from "../../../core/workshop/measure/measurement.ts";
import type { MeasurementStore } from "../../store/measurement-store.ts";

/** What is kept of one harp, the latest first; null while it is read. */
export interface Measurements {
  readonly list: readonly KeptMeasurement[] | null;
  /** One sentence if the store cannot do its work, or null. */
  readonly trouble: string | null;
  readonly keep: (measurement: KeptMeasurement) => void;
  readonly remove: (id: string) => void;
}

const sentence = (error: unknown) => (error instanceof Error ? error.message : `${error}`);

/** The measurements of a harp. What is kept is shown at once and written in order. */
export function useMeasurements(store: MeasurementStore, harpId: string | null): Measurements {
  const [list, setList] = useState<readonly KeptMeasurement[] | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const writing = useRef<Promise<unknown>>(Promise.resolve());
  useEffect(() => {
    let isOpen = true;
    setList(null);
    if (harpId !== null)
      store.ofHarp(harpId).then(
        (found) => isOpen && setList(found),
        (error: unknown) => isOpen && setTrouble(sentence(error)),
      );
    return () => {
      isOpen = false;
    };
  }, [store, harpId]);
  const write = useCallback((work: () => Promise<void>) => {
    writing.current = writing.current.then(work).then(
      () => setTrouble(null),
      (error: unknown) => setTrouble(sentence(error)),
    );
  }, []);
  const keep = useCallback(
    (measurement: KeptMeasurement) => {
      setList((before) => withOne(before ?? [], measurement));
      write(() => store.keep(measurement));
    },
    [store, write],
  );
  const remove = useCallback(
    (id: string) => {
      setList((before) => (before ?? []).filter((one) => one.id !== id));
      write(() => store.remove(id));
    },
    [store, write],
  );
  return { list, trouble, keep, remove };
}

function withOne(list: readonly KeptMeasurement[], one: KeptMeasurement): readonly KeptMeasurement[] {
  return list.some(({ id }) => id === one.id)
    ? list.map((other) => (other.id === one.id ? one : other))
    : [one, ...list];
}
