import { existsSync } from 'node:fs';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** The system's Chromium. `CHROMIUM` names another. */
function chromiumPath(): string {
  const path = process.env.CHROMIUM ?? places.find((place) => existsSync(place));
  if (!path)
    throw new Error(
      'No Chromium found. Install it (Debian: apt-get install chromium) or set CHROMIUM to its path.',
    );
  return path;
}

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: chromiumPath(),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });

export const sizes = {
  desktop: { width: 1440, height: 900 },
  tablet: { width: 834, height: 1112 },
  phone: { width: 390, height: 844 },
} as const;

export interface Seat {
  readonly page: Page;
  readonly context: BrowserContext;
  /** What the page complained about: uncaught errors and console errors. */
  readonly complaints: string[];
}

/** One person at one machine: a browser context of his own. */
export async function seat(
  browser: Browser,
  url: string,
  options: { size?: keyof typeof sizes } = {},
): Promise<Seat> {
  const context = await browser.newContext({
    baseURL: url,
    viewport: sizes[options.size ?? 'desktop'],
    colorScheme: 'light',
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  return { page, context, complaints };
}
