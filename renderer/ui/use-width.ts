import { type RefObject, useLayoutEffect, useRef, useState } from "react";

/** Width in CSS pixels of the element the ref is put on, kept up to date; `first` until it is known. */
export function useWidth<T extends HTMLElement>(first: number): readonly [RefObject<T | null>, number] {
  const ref = useRef<T>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const measure = () => setWidth(element.clientWidth || first);
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [first]);
  return [ref, width];
}
