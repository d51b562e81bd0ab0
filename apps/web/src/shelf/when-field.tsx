import { NativeSelect } from '@mantine/core';
import type { When } from '@stemline/football/looks/recipe';
import { commonWhens, sameWhen, whenWords } from './when-words.ts';

/** Against which formations a line of a look counts. One that is not among the usual stays as it is. */
export function WhenField({ value, onChange }: { value: When; onChange: (value: When) => void }) {
  const usual = commonWhens.find((one) => sameWhen(one.when, value));
  return (
    <NativeSelect
      label="When"
      value={usual?.id ?? 'own'}
      data={[
        ...commonWhens.map((one) => ({ value: one.id, label: whenWords(one.when) })),
        ...(usual === undefined ? [{ value: 'own', label: whenWords(value) }] : []),
      ]}
      onChange={(event) => {
        const chosen = commonWhens.find((one) => one.id === event.currentTarget.value);
        if (chosen !== undefined) onChange(chosen.when);
      }}
    />
  );
}
