import type { Page } from 'playwright-core';
import { demoPassword, type PersonName, people } from '../../apps/server/src/demo/people.ts';

/** What a member does on a page, in his own words. */

async function signIn(page: Page, email: string, password: string = demoPassword): Promise<void> {
  await page.goto('/');
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await page.getByRole('heading', { name: 'Book', level: 1 }).waitFor();
}

export const signInAs = (page: Page, who: PersonName): Promise<void> =>
  signIn(page, people[who].email);

/** Opens a play from the book and waits until its room answers. */
export async function openPlay(page: Page, name: string): Promise<void> {
  await page.getByRole('link', { name, exact: true }).click();
  await page.getByRole('group', { name: `Play board: ${name}` }).waitFor();
  await saved(page);
}

export const saved = (page: Page): Promise<void> =>
  page.getByRole('status').getByText('Saved', { exact: true }).waitFor();

export const section = async (page: Page, name: string): Promise<void> =>
  page.getByRole('tab', { name }).click();

/** Opens one cell of the decision table, changes its limits and keeps them. */
export async function setLimit(
  page: Page,
  cell: { row: number; fact: string },
  limit: { end: 'from' | 'to'; kind: string; yards: string },
): Promise<void> {
  await page.getByRole('button', { name: new RegExp(`^Row ${cell.row}, ${cell.fact}`) }).click();
  const editor = page.getByRole('dialog');
  await editor.getByLabel(`${cell.fact}, ${limit.end}`, { exact: true }).selectOption(limit.kind);
  await editor.getByLabel(`${cell.fact}, ${limit.end}, yd`).fill(limit.yards);
  await editor.getByRole('button', { name: 'Keep' }).click();
  await editor.waitFor({ state: 'hidden' });
}

/** Opens one cell of the decision table and picks one of its answers. */
export async function setAnswer(
  page: Page,
  cell: { row: number; fact: string },
  answer: string,
): Promise<void> {
  await page.getByRole('button', { name: new RegExp(`^Row ${cell.row}, ${cell.fact}`) }).click();
  const editor = page.getByRole('dialog');
  await editor.getByText(answer, { exact: true }).click();
  await editor.getByRole('button', { name: 'Keep' }).click();
  await editor.waitFor({ state: 'hidden' });
}

export const finding = (page: Page, kind: string) =>
  page.getByRole('list', { name: 'Findings' }).getByRole('listitem').filter({ hasText: kind });
