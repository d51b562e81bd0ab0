import type { Finding } from '@stemline/read-rules/finding';
import { useCallback } from 'react';
import { useBoardUi } from '../board/board-ui-context.tsx';

/** Stands a finding's witness on the board, marks what it is about, and opens its card. */
export function useShowFinding(): (finding: Finding) => void {
  const [, tell] = useBoardUi();
  return useCallback(
    (finding) => {
      const about = finding.elements.find(
        (element) => element.kind === 'row' || element.kind === 'card' || element.kind === 'branch',
      );
      tell({
        do: 'showFinding',
        finding: finding.id,
        witness: finding.witness && {
          look: finding.witness.look,
          reactions: finding.witness.reactions,
        },
        card: about && 'player' in about ? about.player : null,
      });
    },
    [tell],
  );
}
