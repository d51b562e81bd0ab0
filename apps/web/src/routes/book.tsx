import { Button, Group, NativeSelect, SegmentedControl, TextInput } from '@mantine/core';
import type { BoardLine } from '@stemline/protocol/api/boards';
import { may } from '@stemline/protocol/permissions';
import { IconPlus, IconSearch } from '@tabler/icons-react';
import { useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import { useBook } from '../api/boards.ts';
import { bookLines, type Order, type Show, shows, showWords } from '../book/book-lines.ts';
import { BookTable } from '../book/book-table.tsx';
import { DuplicatePlay } from '../book/duplicate-play.tsx';
import { EmptyBook } from '../book/empty-book.tsx';
import { LetIn } from '../book/let-in.tsx';
import { NewPlay } from '../book/new-play.tsx';
import type { PlayAction } from '../book/play-actions.ts';
import { useArchive } from '../book/use-archive.tsx';
import { LoadingLines } from '../common/loading.tsx';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { useStaff } from '../frame/use-staff.ts';

/** The staff's book: every play, how far it has come, and what is still open about it. */
export function Book() {
  const { staffId, membership } = useStaff();
  const navigate = useNavigate();
  const [archived, setArchived] = useState(false);
  const [search, setSearch] = useState('');
  const [show, setShow] = useState<Show>('all');
  const [order, setOrder] = useState<Order>('updated');
  const [adding, setAdding] = useState(false);
  const [duplicating, setDuplicating] = useState<BoardLine | null>(null);
  const [lettingIn, setLettingIn] = useState<BoardLine | null>(null);
  const book = useBook(staffId, archived);
  const { archive, restore } = useArchive(staffId);
  const coach = may(membership.role, 'board.open');
  const creates = may(membership.role, 'board.create');
  const lines = bookLines(book.data ?? [], { search, show, order });

  const choose = (line: BoardLine, action: PlayAction) => {
    if (action === 'open') void navigate({ to: '/boards/$boardId', params: { boardId: line.id } });
    if (action === 'openSigned')
      void navigate({ to: '/boards/$boardId/signed', params: { boardId: line.id } });
    if (action === 'duplicate') setDuplicating(line);
    if (action === 'letIn') setLettingIn(line);
    if (action === 'archive') archive(line);
    if (action === 'restore') restore(line);
  };

  return (
    <Page
      title="Book"
      about={coach ? undefined : 'The plays that are signed off. Learn these, no others.'}
      actions={
        creates && (
          <Button leftSection={<IconPlus size={17} aria-hidden />} onClick={() => setAdding(true)}>
            New play
          </Button>
        )
      }
    >
      <Group gap="xs" mb="md" role="search" aria-label="Plays">
        <TextInput
          aria-label="Search plays"
          placeholder="Name, concept or formation"
          leftSection={<IconSearch size={16} aria-hidden />}
          value={search}
          onChange={(event) => setSearch(event.currentTarget.value)}
          style={{ flex: '1 1 14rem', maxWidth: '24rem' }}
        />
        {coach && (
          <>
            <NativeSelect
              aria-label="Show"
              value={show}
              onChange={(event) => setShow(event.currentTarget.value as Show)}
              data={shows.map((value) => ({ value, label: showWords[value] }))}
            />
            <SegmentedControl
              aria-label="Which plays"
              value={archived ? 'archived' : 'working'}
              onChange={(value) => setArchived(value === 'archived')}
              data={[
                { value: 'working', label: 'In the book' },
                { value: 'archived', label: 'Archived' },
              ]}
            />
          </>
        )}
      </Group>
      {book.isPending && <LoadingLines what="the book" lines={9} />}
      {book.isError && <ProblemNotice error={book.error} onRetry={() => void book.refetch()} />}
      {book.isSuccess && lines.length > 0 && (
        <BookTable
          lines={lines}
          role={membership.role}
          order={order}
          onOrder={setOrder}
          onChoose={choose}
        />
      )}
      {book.isSuccess && lines.length === 0 && (
        <EmptyBook
          kind={
            book.data.length > 0
              ? 'noneFound'
              : archived
                ? 'noneArchived'
                : coach
                  ? 'noPlays'
                  : 'noneSigned'
          }
          onNew={creates ? () => setAdding(true) : null}
          onAll={() => {
            setSearch('');
            setShow('all');
          }}
        />
      )}
      <NewPlay staffId={staffId} opened={adding} onClose={() => setAdding(false)} />
      <DuplicatePlay staffId={staffId} line={duplicating} onClose={() => setDuplicating(null)} />
      <LetIn line={lettingIn} onClose={() => setLettingIn(null)} />
    </Page>
  );
}
