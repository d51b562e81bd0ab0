import { type Ask, Desk, type Said } from './desk.ts';

/** A worker's own end; the DOM's types know only a window's. */
interface WorkerEnd {
  onmessage: ((event: MessageEvent<Ask>) => void) | null;
  postMessage(message: Said): void;
}
const end = self as unknown as WorkerEnd;
const desk = new Desk();

end.onmessage = ({ data }) => {
  const said = desk.answer(data);
  if (said) end.postMessage(said);
};
