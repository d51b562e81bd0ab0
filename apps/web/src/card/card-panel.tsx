import { Button, Menu, NativeSelect } from '@mantine/core';
import { modals } from '@mantine/modals';
import { elementKey, parseElementKey, rowKey } from '@stemline/board/element-key';
import type { PlayerId } from '@stemline/football/ids';
import type { BranchId, ReadCard, RowId } from '@stemline/read-rules/card';
import type { Evaluation } from '@stemline/read-rules/evaluate';
import type { Finding } from '@stemline/read-rules/finding';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { IconPlus } from '@tabler/icons-react';
import { useMemo } from 'react';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { useRights } from '../board/rights.ts';
import { usePresenceColors } from '../board/use-presence-colors.ts';
import { SeverityIcon } from '../common/severity.tsx';
import { useShowFinding } from '../findings/use-show-finding.ts';
import { useBoard, usePlay, usePresence } from '../live/hooks.ts';
import type { Colleague } from '../live/presence.ts';
import { useOnTheBoard } from '../looks/standing-context.tsx';
import { useShownFindings } from '../rule-check/rule-check-context.tsx';
import { BranchEditor } from './branch-editor.tsx';
import { BranchList } from './branch-list.tsx';
import { findingsOfCard } from './card-marks.ts';
import classes from './card-panel.module.css';
import { branchName, cardName, keyWords, policyNames, sideManWords } from './card-words.ts';
import { DecisionTable } from './decision-table.tsx';
import { HeadEditor } from './head-editor.tsx';
import { newBranch, newRow } from './new-card.ts';
import { RowDetails } from './row-details.tsx';
import { startCard } from './start-card.ts';
import type { TableHand } from './table-hand.ts';

/** Who else is at which row of this card. */
function othersAt(
  colleagues: readonly Colleague[],
  player: PlayerId,
  colors: ReadonlyMap<string, string>,
) {
  const others = new Map<RowId, { name: string; color: string }>();
  for (const { member, selected } of colleagues) {
    const name = selected === null ? null : parseElementKey(selected);
    if (name?.root === 'rows' && name.player === player) {
      others.set(name.row, { name: member.name, color: colors.get(member.id) ?? '' });
    }
  }
  return others;
}

/** What the card answers to the look on the board, with the reasons. */
function Answer({ card, answer }: { card: ReadCard; answer: Evaluation }) {
  const label = answer.branch ? answer.branch.name : branchName(card, null);
  return (
    <div className={classes.answer} data-open={answer.branch === null || undefined} role="status">
      <strong>{label}</strong>
      <ul>
        {answer.reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
    </div>
  );
}

function StartCard({ play, open }: { play: RuledPlay; open: PlayerId | null }) {
  const board = useBoard();
  const rights = useRights();
  const [, tell] = useBoardUi();
  const free = play.players.filter(
    ({ id }) => rights.player(id) && !play.cards.some(({ player }) => player === id),
  );
  const start = (id: PlayerId): void => {
    const player = free.find((each) => each.id === id);
    if (!player) return;
    startCard(board, play, player);
    tell({ do: 'openCard', player: id });
  };
  if (free.length === 0) return null;
  const wanted = free.find(({ id }) => id === open);
  return (
    <Menu withinPortal position="bottom-end">
      <Menu.Target>
        <Button size="xs" variant="default" leftSection={<IconPlus size={15} aria-hidden />}>
          Start a read card
        </Button>
      </Menu.Target>
      <Menu.Dropdown mah="20rem" style={{ overflowY: 'auto' }}>
        {[...free]
          .sort((a, b) => Number(b === wanted) - Number(a === wanted))
          .map((player) => (
            <Menu.Item key={player.id} onClick={() => start(player.id)}>
              for {player.label}
            </Menu.Item>
          ))}
      </Menu.Dropdown>
    </Menu>
  );
}

function useTableHand(card: ReadCard): TableHand {
  const board = useBoard();
  const [, tell] = useBoardUi();
  const { player } = card;
  return {
    ask: (row, fact, condition) => {
      // Others may have changed the row while the cell was open: their cells stay as they are now.
      const now = board
        .snapshot()
        .board.play.cards.find((each) => each.player === player)
        ?.rows.find(({ id }) => id === row.id);
      const before = now ?? row;
      const at = before.conditions.findIndex((each) => each.fact === fact);
      const rest = before.conditions.filter((each) => each.fact !== fact);
      const conditions = condition
        ? at < 0
          ? [...rest, condition]
          : before.conditions.map((each) => (each.fact === fact ? condition : each))
        : rest;
      board.putRow(player, { ...before, conditions });
    },
    lead: (row, branch) => board.putRow(player, { ...row, branch }),
    move: (row, after) => board.moveRow(player, row, after),
    details: (row, index) => <RowDetails card={card} row={row} index={index} />,
    onTouch: (row) => tell({ do: 'about', element: elementKey('rows', rowKey(player, row)) }),
  };
}

function OpenCard({ card }: { card: ReadCard }) {
  const board = useBoard();
  const play = usePlay();
  const rights = useRights();
  const findings = useShownFindings();
  const colleagues = usePresence();
  const { standing } = useOnTheBoard();
  const showFinding = useShowFinding();
  const hand = useTableHand(card);
  const mayEdit = rights.player(card.player);
  const answer = standing?.answers.get(card.player) ?? null;
  const marked = useMemo(() => findingsOfCard(findings, card.player), [findings, card.player]);
  const colors = usePresenceColors();
  const others = useMemo(
    () => othersAt(colleagues, card.player, colors),
    [colleagues, card.player, colors],
  );
  const player = play.players.find(({ id }) => id === card.player);
  const lit = answer?.row;
  const litRow = card.rows.find(({ id }) => id === lit)?.id ?? null;
  const [firstBranch] = card.branches;
  const remove = (): void => {
    modals.openConfirmModal({
      title: `Remove ${cardName(play, card)}?`,
      children: 'Its rows and branches go with it. Undo brings them back.',
      labels: { confirm: 'Remove card', cancel: 'Keep it' },
      confirmProps: { color: 'red' },
      onConfirm: () => board.removeCard(card.player),
    });
  };
  return (
    <>
      {answer && <Answer card={card} answer={answer} />}
      {marked.card.length > 0 && (
        <div>
          {marked.card.map((finding: Finding) => (
            <button
              key={finding.id}
              type="button"
              className={classes.finding}
              data-severity={finding.severity}
              onClick={() => showFinding(finding)}
            >
              <SeverityIcon severity={finding.severity} size={14} />
              <span>{finding.says}</span>
            </button>
          ))}
        </div>
      )}
      <section className={classes.part} aria-label="Key">
        <h2 className={classes.heading}>Key</h2>
        <p className={classes.words}>
          {keyWords(play, card)} {sideManWords(card.head)}
        </p>
        {mayEdit && (
          <details className={classes.key}>
            <summary>Change key, policy and standing answers</summary>
            <HeadEditor card={card} />
          </details>
        )}
      </section>
      <section className={classes.part} aria-label="Rows">
        <h2 className={classes.heading}>
          <span>Rows: {policyNames[card.head.policy]}</span>
          {mayEdit && firstBranch && (
            <Button
              size="compact-xs"
              variant="default"
              leftSection={<IconPlus size={14} aria-hidden />}
              onClick={() => board.putRow(card.player, newRow(firstBranch.id))}
            >
              Add row
            </Button>
          )}
        </h2>
        <DecisionTable
          card={card}
          label={`Rows of ${cardName(play, card)}`}
          hand={mayEdit ? hand : null}
          marks={{
            lit: litRow,
            fits: answer?.fits ?? [],
            findings: marked.rows as ReadonlyMap<RowId, readonly Finding[]>,
            onFinding: showFinding,
            others,
          }}
        />
      </section>
      <dl className={classes.standing} aria-label="Standing answers">
        <dt>When in doubt</dt>
        <dd data-lit={lit === 'whenInDoubt' || undefined}>
          {branchName(card, card.head.whenInDoubt)}
        </dd>
        <dt>No key</dt>
        <dd data-lit={lit === 'noKey' || undefined}>{branchName(card, card.head.noKey)}</dd>
      </dl>
      <section className={classes.part} aria-label="Branches">
        <h2 className={classes.heading}>
          <span>Branches</span>
          {mayEdit && player && (
            <Button
              size="compact-xs"
              variant="default"
              leftSection={<IconPlus size={14} aria-hidden />}
              onClick={() =>
                board.putBranch(
                  card.player,
                  newBranch(play, player, `BRANCH ${card.branches.length + 1}`),
                )
              }
            >
              Add branch
            </Button>
          )}
        </h2>
        <BranchList
          play={play}
          card={card}
          lit={answer?.branch?.id ?? null}
          findings={marked.branches as ReadonlyMap<BranchId, readonly Finding[]>}
          onFinding={showFinding}
          {...(mayEdit ? { editor: (branch) => <BranchEditor card={card} branch={branch} /> } : {})}
        />
      </section>
      {mayEdit && (
        <div>
          <Button size="compact-xs" variant="subtle" color="red" onClick={remove}>
            Remove this card
          </Button>
        </div>
      )}
    </>
  );
}

/** The read cards of the play, one open at a time. */
export function CardPanel() {
  const play = usePlay();
  const [ui, tell] = useBoardUi();
  const open = play.cards.find(({ player }) => player === ui.card) ?? play.cards[0];
  return (
    <div className={classes.panel}>
      <div className={classes.choose}>
        {open ? (
          <NativeSelect
            label="Read card"
            size="xs"
            value={open.player}
            onChange={({ currentTarget }) =>
              tell({ do: 'openCard', player: currentTarget.value as PlayerId })
            }
            data={play.cards.map((card) => ({
              value: card.player as string,
              label: cardName(play, card),
            }))}
          />
        ) : (
          <p className={classes.quiet}>
            No read cards yet. A read card tells one player how to find his key and what to do
            against what he sees.
          </p>
        )}
        <StartCard play={play} open={ui.card ?? ui.selected[0] ?? null} />
      </div>
      {open && <OpenCard key={open.player} card={open} />}
    </div>
  );
}
