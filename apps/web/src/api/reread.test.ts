import { QueryClient, QueryObserver } from '@tanstack/react-query';
import { expect, it, vi } from 'vitest';
import { reread } from './reread.ts';

it('reads again even when the first read was under way as the change came', async () => {
  const queries = new QueryClient({ defaultOptions: { queries: { staleTime: 60_000 } } });
  const answers: ((value: string) => void)[] = [];
  const watched = new QueryObserver(queries, {
    queryKey: ['board', 'b1', 'comments'],
    queryFn: () => new Promise<string>((answer) => answers.push(answer)),
  });
  const stop = watched.subscribe(() => undefined);
  expect(answers).toHaveLength(1);

  const done = reread(queries, ['board', 'b1', 'comments']);
  answers[0]?.('without the comment');
  await vi.waitFor(() => expect(answers).toHaveLength(2));
  answers[1]?.('with the comment');
  await done;
  expect(watched.getCurrentResult().data).toBe('with the comment');
  stop();
});
