import { describe, expect, it } from 'vitest';
import { ApiProblem, asProblem, problemOf } from './api-problem.ts';

const told = {
  type: 'urn:stemline:problem:nameTaken',
  title: 'The name is taken',
  status: 409,
  detail: 'There is a look called Over.',
  mend: 'Choose another name.',
};

describe('an answer that is not a success', () => {
  it('keeps what problem+json says', async () => {
    const problem = await problemOf(new Response(JSON.stringify(told), { status: 409 }));
    expect(problem).toBeInstanceOf(ApiProblem);
    expect(problem.problem).toEqual(told);
    expect(problem.status).toBe(409);
  });

  it('keeps where it went wrong', async () => {
    const where = [{ path: 'body.name', message: 'too long' }];
    const problem = await problemOf(
      new Response(JSON.stringify({ ...told, where }), { status: 422 }),
    );
    expect(problem.problem.where).toEqual(where);
  });

  it.each([
    ['a proxy page', '<html>Bad gateway</html>'],
    ['nothing', ''],
    ['another JSON', '{"error":"no"}'],
  ])('says something useful of %s', async (_, body) => {
    const problem = await problemOf(new Response(body, { status: 502, statusText: 'Bad Gateway' }));
    expect(problem.status).toBe(502);
    expect(problem.problem.detail).toContain('502 (Bad Gateway)');
    expect(problem.problem.mend).not.toBe('');
  });

  it('tells a refusal from a failure', async () => {
    expect((await problemOf(new Response('', { status: 404 }))).problem.title).toBe(
      'The server refused this',
    );
    expect((await problemOf(new Response('', { status: 503 }))).problem.title).toBe(
      'The server failed',
    );
  });
});

describe('anything thrown', () => {
  it('is shown as the problem it is', () => {
    expect(asProblem(new ApiProblem(told))).toEqual(told);
  });
  it('is shown with its message otherwise', () => {
    expect(asProblem(new Error('no such look')).detail).toBe('no such look');
    expect(asProblem('odd').detail).toBe('odd');
  });
});
