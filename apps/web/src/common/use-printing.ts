import { useSyncExternalStore } from 'react';

const paper = matchMedia('print');
let printing = paper.matches;

function watch(listener: () => void): () => void {
  const say = (now: boolean) => () => {
    printing = now;
    listener();
  };
  const [begun, ended] = [say(true), say(false)];
  const changed = () => say(paper.matches)();
  window.addEventListener('beforeprint', begun);
  window.addEventListener('afterprint', ended);
  paper.addEventListener('change', changed);
  return () => {
    window.removeEventListener('beforeprint', begun);
    window.removeEventListener('afterprint', ended);
    paper.removeEventListener('change', changed);
  };
}

/** The page is being put on paper: what is drawn for that only need not be kept up all the while. */
export const usePrinting = (): boolean => useSyncExternalStore(watch, () => printing);
