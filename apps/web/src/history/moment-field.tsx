import { TextInput } from '@mantine/core';
import { useNavigate } from '@tanstack/react-router';
import { fromLocal, toLocal } from './local-time.ts';

/** Any moment, for whoever remembers the time rather than the sitting. */
export function MomentField({ boardId, time }: { boardId: string; time: string | undefined }) {
  const navigate = useNavigate();
  return (
    <TextInput
      type="datetime-local"
      label="As it was at"
      value={time === undefined ? '' : toLocal(time)}
      max={toLocal(new Date().toISOString())}
      onChange={({ currentTarget }) => {
        const moment = fromLocal(currentTarget.value);
        if (moment === null) return;
        void navigate({
          to: '/boards/$boardId/history',
          params: { boardId },
          search: { time: moment },
          replace: true,
        });
      }}
    />
  );
}
