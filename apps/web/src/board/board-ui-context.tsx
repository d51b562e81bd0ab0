import { createContext, type Dispatch, type ReactNode, useContext, useReducer } from 'react';
import { type BoardUi, type UiAction, uiAtFirst, uiStep } from './board-ui.ts';

const UiContext = createContext<readonly [BoardUi, Dispatch<UiAction>] | null>(null);

/** What this coach has selected and stood up on his page. */
export function BoardUiProvider({ children }: { children: ReactNode }) {
  return <UiContext value={useReducer(uiStep, uiAtFirst)}>{children}</UiContext>;
}

export function useBoardUi(): readonly [BoardUi, Dispatch<UiAction>] {
  const ui = useContext(UiContext);
  if (!ui) throw new Error('A board is needed here.');
  return ui;
}
