import { describe, expect, it } from 'vitest';
import { accountProblem } from './session.ts';

const error = (code: string | undefined, status = 401, message?: string) =>
  accountProblem({ status, statusText: '', code, message }).problem;

describe('what the account service refuses, in our words', () => {
  it('does not tell whether the e-mail or the password was wrong', () => {
    expect(error('INVALID_EMAIL_OR_PASSWORD').detail).toBe(
      'No account fits this e-mail and password.',
    );
  });
  it('asks to wait after too many tries', () => {
    expect(error(undefined, 429).mend).toContain('Wait');
  });
  it('keeps the words of a problem that the server itself answers', () => {
    const locked = {
      title: 'Too many wrong passwords',
      detail: 'Too many.',
      mend: 'Wait 4 minutes.',
    };
    expect(accountProblem({ status: 429, statusText: '', ...locked }).problem).toMatchObject(
      locked,
    );
  });
  it('keeps the words of a code it does not know', () => {
    expect(error('SOMETHING_NEW', 400, 'A new rule').detail).toBe('A new rule');
    expect(error(undefined, 500).detail).toContain('500');
  });
});
