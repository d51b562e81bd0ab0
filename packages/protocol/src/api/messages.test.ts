import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { newAccountSchema, passwordChangeSchema } from './account.ts';
import { duplicateBoardSchema, newBoardSchema } from './boards.ts';
import { newThreadSchema } from './comments.ts';
import { decisionSchema, sendUpSchema, waiverSchema } from './signoff.ts';
import { newStaffSchema } from './staffs.ts';

const board = { name: 'Sail', concept: '', formation: 'doubles', code: 'college' };
const account = { name: 'Nora', email: 'nora@birchhollow.example', password: 'long enough word' };
const long = 'x'.repeat(5000);

/** What each field says where it is left empty (null: it may be), and where far too much is typed. */
const fields: [
  schema: z.ZodType,
  rest: object,
  field: string,
  empty: string | null,
  tooLong: string,
][] = [
  [newBoardSchema, board, 'name', 'Give the play a name.', 'A name may be 80 characters at most.'],
  [newBoardSchema, board, 'concept', null, 'A concept may be 60 characters at most.'],
  [
    duplicateBoardSchema,
    {},
    'name',
    'Give the play a name.',
    'A name may be 80 characters at most.',
  ],
  [newStaffSchema, {}, 'name', 'Give the staff a name.', 'A name may be 80 characters at most.'],
  [
    newAccountSchema,
    account,
    'name',
    'Type your name. Your staff sees it.',
    'A name may be 80 characters at most.',
  ],
  [
    newAccountSchema,
    account,
    'password',
    'Use at least 10 characters.',
    'Use at most 128 characters.',
  ],
  [
    passwordChangeSchema,
    { current: 'x', next: account.password },
    'next',
    'Use at least 10 characters.',
    'Use at most 128 characters.',
  ],
  [
    newThreadSchema,
    { anchor: '' },
    'text',
    'Write something first.',
    'A comment may be 4000 characters at most.',
  ],
  [sendUpSchema, {}, 'message', null, 'A message may be 1000 characters at most.'],
  [
    decisionSchema,
    { decision: 'sendBack' },
    'reply',
    'Say what has to change.',
    'A reply may be 1000 characters at most.',
  ],
  [
    waiverSchema,
    { findingId: 'f' },
    'reason',
    'Give a reason: everybody on the staff sees it.',
    'A reason may be 500 characters at most.',
  ],
];

describe('what a form and the API say of a field', () => {
  it.each(fields)('%#: is a sentence', (schema, rest, field, empty, tooLong) => {
    const said = (text: string) =>
      schema.safeParse({ ...rest, [field]: text }).error?.issues.map(({ message }) => message);
    expect(said('')).toEqual(empty === null ? undefined : [empty]);
    expect(said(long)).toEqual([tooLong]);
  });
});
