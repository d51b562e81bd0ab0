import { Tabs } from '@mantine/core';
import { parseElementKey } from '@stemline/board/element-key';
import { elementWords } from '@stemline/board/words';
import type { Board } from '@stemline/protocol/api/boards';
import {
  IconAlertOctagon,
  IconCards,
  IconChecks,
  IconMessage,
  IconNotes,
  IconShield,
  IconShieldHalf,
  IconTable,
  IconUser,
} from '@tabler/icons-react';
import { type KeyboardEvent, type ReactNode, useCallback, useState } from 'react';
import { CardPanel } from '../card/card-panel.tsx';
import { CommentsPanel } from '../comments/comments-panel.tsx';
import { usePrinting } from '../common/use-printing.ts';
import { FindingsPanel } from '../findings/findings-panel.tsx';
import { unsavedOf } from '../live/connection.ts';
import { useBoard, useConnection, useFindings, useProjection } from '../live/hooks.ts';
import { LooksPanel } from '../looks/looks-panel.tsx';
import { NotesEditor } from '../notes/notes-editor.tsx';
import { ProtectionPanel } from '../protection/protection-panel.tsx';
import { useShownFindings } from '../rule-check/rule-check-context.tsx';
import { findingOf, holds, isWaived } from '../rule-check/shown-finding.ts';
import { SamePagePanel } from '../same-page/same-page-panel.tsx';
import { SignOffPanel } from '../signoff/signoff-panel.tsx';
import { BoardCanvas } from './board-canvas.tsx';
import classes from './board-room.module.css';
import { BoardToolbar } from './board-toolbar.tsx';
import { useBoardUi } from './board-ui-context.tsx';
import { ConnectionNotice } from './connection-notice.tsx';
import { FindingsLive } from './findings-live.tsx';
import { PlayHead } from './play-head.tsx';
import { PlayerPanel } from './player-panel.tsx';
import { PrintedBoard } from './printed-board.tsx';
import type { SectionId } from './section.ts';
import { Unreadable } from './unreadable.tsx';

function useSignOffFacts() {
  const findings = useFindings();
  const connection = useConnection();
  const unsaved = unsavedOf(connection);
  const holdUp =
    connection.kind === 'saved'
      ? null
      : unsaved > 0
        ? 'Edits of yours are not saved yet. Wait until they are, then send up.'
        : 'The board is not in step with the room. Wait until it is, then send up.';
  return {
    holdUp,
    findings: findings.map(({ finding, waived }) => ({
      id: finding.id,
      severity: finding.severity,
      says: finding.says,
      waived: waived !== null,
    })),
  };
}

/** How many findings nobody has waived; apart, so that the room is not drawn anew with each of them. */
function FindingsCount() {
  const held = useShownFindings().filter((shown) => holds(shown) && !isWaived(shown));
  if (held.length === 0) return null;
  const stops = held.some((shown) => findingOf(shown).severity === 'stop');
  return (
    <span className={classes.count} data-stop={stops || undefined}>
      {held.length}
    </span>
  );
}

/** The play board with everything around it. */
export function BoardRoom({ board, opensWith }: { board: Board; opensWith: SectionId }) {
  const document = useBoard();
  const projection = useProjection();
  const [ui, tell] = useBoardUi();
  const [section, setSection] = useState<SectionId>(opensWith);
  const signOff = useSignOffFacts();
  const printing = usePrinting();

  const labelOf = useCallback(
    (anchor: string): string | null => {
      if (anchor === '') return 'the whole play';
      const name = parseElementKey(anchor);
      if (!name) return null;
      const { play } = projection.board;
      const gone = 'player' in name && !play.players.some(({ id }) => id === name.player);
      return gone
        ? null
        : elementWords(anchor as Parameters<typeof elementWords>[0], projection.board);
    },
    [projection.board],
  );
  const show = (anchor: string): void => {
    const name = parseElementKey(anchor);
    if (!name || !('player' in name)) return;
    tell({ do: 'select', players: [name.player] });
    if (name.root === 'rows' || name.root === 'branches' || name.root === 'cards') {
      tell({ do: 'openCard', player: name.player });
      setSection('card');
    }
  };

  const sections: {
    id: SectionId;
    label: string;
    Icon: typeof IconUser;
    Count?: () => ReactNode;
    body: ReactNode;
  }[] = [
    {
      id: 'player',
      label: 'Player',
      Icon: IconUser,
      body: <PlayerPanel onOpenCard={() => setSection('card')} />,
    },
    { id: 'card', label: 'Read card', Icon: IconCards, body: <CardPanel /> },
    { id: 'looks', label: 'Looks', Icon: IconShield, body: <LooksPanel /> },
    { id: 'protection', label: 'Protection', Icon: IconShieldHalf, body: <ProtectionPanel /> },
    { id: 'samePage', label: 'Same page', Icon: IconTable, body: <SamePagePanel /> },
    {
      id: 'findings',
      label: 'Findings',
      Icon: IconAlertOctagon,
      Count: FindingsCount,
      body: <FindingsPanel boardId={board.id} staffId={board.staffId} role={board.member.role} />,
    },
    { id: 'notes', label: 'Notes', Icon: IconNotes, body: <NotesEditor /> },
    {
      id: 'comments',
      label: 'Comments',
      Icon: IconMessage,
      body: (
        <CommentsPanel
          boardId={board.id}
          member={board.member}
          anchor={ui.about}
          labelOf={labelOf}
          onShow={show}
        />
      ),
    },
    {
      id: 'signoff',
      label: 'Sign-off',
      Icon: IconChecks,
      body: (
        <SignOffPanel
          boardId={board.id}
          staffId={board.staffId}
          role={board.member.role}
          {...signOff}
        />
      ),
    },
  ];

  /** Undo works wherever on the page the coach is, except in a field that has its own. */
  const onKeyDown = (event: KeyboardEvent): void => {
    const { target } = event;
    const own =
      target instanceof HTMLInputElement ||
      target instanceof HTMLTextAreaElement ||
      (target instanceof HTMLElement && target.isContentEditable);
    if (own || event.defaultPrevented || !(event.ctrlKey || event.metaKey)) return;
    const key = event.key.toLowerCase();
    if (key !== 'z' && key !== 'y') return;
    event.preventDefault();
    if (key === 'y' || event.shiftKey) document.undo.redo();
    else document.undo.undo();
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: undo is heard wherever the focus is
    <div className={classes.room} onKeyDown={onKeyDown}>
      {printing && <PrintedBoard />}
      <PlayHead />
      <ConnectionNotice />
      <Unreadable unreadable={projection.unreadable} />
      <div className={classes.stage}>
        <div className={classes.board}>
          <BoardToolbar boardId={board.id} />
          <BoardCanvas
            showBlocking={section === 'protection'}
            onDefender={() => setSection(section === 'protection' ? 'protection' : 'looks')}
          />
        </div>
        <Tabs
          className={classes.side ?? ''}
          value={section}
          onChange={(value) => setSection((value ?? 'card') as SectionId)}
          keepMounted={false}
        >
          <Tabs.List className={classes.tabs ?? ''} aria-label="Sections">
            {sections.map(({ id, label, Icon, Count }) => (
              <Tabs.Tab key={id} value={id} className={classes.tab ?? ''}>
                <span className={classes.tabFace}>
                  <Icon size={18} stroke={1.8} aria-hidden className={classes.tabIcon} />
                  <span>{label}</span>
                  {Count && <Count />}
                </span>
              </Tabs.Tab>
            ))}
          </Tabs.List>
          {sections.map(({ id, body }) => (
            <Tabs.Panel key={id} value={id} className={classes.panel ?? ''}>
              {body}
            </Tabs.Panel>
          ))}
        </Tabs>
      </div>
      <FindingsLive />
    </div>
  );
}
