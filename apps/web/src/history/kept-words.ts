import { historyKept } from '@stemline/protocol/history';

const eachOf = {
  edit: 'every edit',
  sitting: 'the end of every stretch of edits',
  day: 'the end of every day',
};

/** How far back a history goes, from the very table the server thins it by. */
export const keptInWords = `Kept: ${historyKept
  .map(({ keeps, days }) => `${eachOf[keeps]} for ${days} days`)
  .join(', ')}. Signed-off versions are kept for good.`;
