import { type RefObject, useLayoutEffect, useState } from 'react';

/** The inner size of an element in CSS pixels, kept up to date; zero until it has been laid out. */
export function useWindowSize(of: RefObject<Element | null>): { width: number; height: number } {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = of.current;
    if (!element) return;
    const measure = (): void => {
      const { width, height } = element.getBoundingClientRect();
      setSize((old) => (old.width === width && old.height === height ? old : { width, height }));
    };
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => observer.disconnect();
  }, [of]);
  return size;
}

/** Below this width a drawing is cropped to the formation, CSS pixels. */
export const isNarrow = ({ width }: { width: number }): boolean => width > 0 && width < 640;
