import type { Problem } from '@stemline/protocol/problem';
import { problemSchema } from '@stemline/protocol/problem';
import type { Role } from '@stemline/protocol/roles';
import { expect } from 'vitest';
import { z } from 'zod';
import type { AppType } from '../api/app-type.ts';

export interface Answer {
  status: number;
  headers: Headers;
  text: string;
}

/** A made-up account; its browser is this object, which keeps the cookie. */
export class Person {
  readonly #app: AppType;
  readonly name: string;
  readonly email: string;
  readonly password = 'a long enough password';
  cookie = '';

  constructor(app: AppType, name: string) {
    this.#app = app;
    this.name = name;
    this.email = `${name.toLowerCase().replace(/\W+/g, '.')}@example.test`;
  }

  /** Sends a request as a page of our own would; says nothing about the answer. */
  async ask(
    method: string,
    path: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ): Promise<Answer> {
    const request = new Request(`http://stemline.test${path}`, {
      method,
      headers: {
        host: 'stemline.test',
        origin: 'http://stemline.test',
        ...(this.cookie ? { cookie: this.cookie } : {}),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...headers,
      },
      ...(body === undefined
        ? {}
        : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
    });
    const answer = await this.#app.fetch(request, {});
    return { status: answer.status, headers: answer.headers, text: await answer.text() };
  }

  /** Expects success and an answer of this shape. */
  async gets<Schema extends z.ZodType>(
    schema: Schema,
    method: string,
    path: string,
    body?: unknown,
  ): Promise<z.output<Schema>> {
    const answer = await this.ask(method, path, body);
    expect(answer.status, `${method} ${path}: ${answer.text}`).toBeLessThan(300);
    return schema.parse(JSON.parse(answer.text));
  }

  /** Expects success without an answer. */
  async does(method: string, path: string, body?: unknown): Promise<void> {
    const answer = await this.ask(method, path, body);
    expect(answer.status, `${method} ${path}: ${answer.text}`).toBe(204);
  }

  /** Expects a problem of this status, of this kind when one is named. */
  async isRefused(
    status: number,
    method: string,
    path: string,
    body?: unknown,
    kind?: string,
  ): Promise<Problem> {
    const answer = await this.ask(method, path, body);
    expect(answer.status, `${method} ${path}: ${answer.text}`).toBe(status);
    expect(answer.headers.get('content-type')).toBe('application/problem+json');
    const problem = problemSchema.parse(JSON.parse(answer.text));
    expect(problem.status).toBe(status);
    if (kind !== undefined) expect(problem.type).toBe(`urn:stemline:problem:${kind}`);
    return problem;
  }

  async createAccount(): Promise<void> {
    const { name, email, password } = this;
    this.#keepCookie(await this.ask('POST', '/api/auth/sign-up/email', { name, email, password }));
  }

  async signIn(password = this.password): Promise<void> {
    this.#keepCookie(
      await this.ask('POST', '/api/auth/sign-in/email', { email: this.email, password }),
    );
  }

  /** Founds a staff and gives its id. */
  async foundsStaff(name: string): Promise<string> {
    const made = await this.gets(z.object({ staffId: z.string() }), 'POST', '/api/staffs', {
      name,
    });
    return made.staffId;
  }

  /** Has another person join a staff by a link, and gives his member id. */
  async letsJoin(other: Person, staffId: string, role: Role, group = 'all'): Promise<string> {
    const { link } = await this.gets(
      z.object({ link: z.string() }),
      'POST',
      `/api/staffs/${staffId}/invitations`,
      { role, group },
    );
    const token = link.split('/').at(-1);
    const joined = await other.gets(
      z.object({ memberId: z.string() }),
      'POST',
      `/api/invitations/${token}/accept`,
    );
    return joined.memberId;
  }

  /** Draws up a board and gives its id. */
  async drawsUp(staffId: string, name: string, concept = ''): Promise<string> {
    const wish = { name, concept, formation: 'doubles', code: 'highSchool' };
    const made = await this.gets(
      z.object({ id: z.string() }),
      'POST',
      `/api/staffs/${staffId}/boards`,
      wish,
    );
    return made.id;
  }

  #keepCookie(answer: Answer): void {
    expect(answer.status, answer.text).toBe(200);
    this.cookie = answer.headers
      .getSetCookie()
      .map((line) => line.split(';')[0])
      .join('; ');
  }
}
