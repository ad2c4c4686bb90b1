/** A visit to the page in a browser, with the parts that the tests look at. */
import { existsSync } from 'node:fs';
import {
  chromium,
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  type Page,
} from 'playwright-core';
import { expect, vi } from 'vitest';

export const ANSWERS = ['water', 'shortage', 'sun', 'bill', 'payback'] as const;

export interface AnswerText {
  name: string;
  value: string;
  note: string;
}

export function openBrowser(): Promise<Browser> {
  const path = process.env.CHROMIUM ?? '/usr/bin/chromium';
  if (!existsSync(path)) throw new Error(`no browser at ${path}; set CHROMIUM to one`);
  return chromium.launch({
    executablePath: path,
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
}

/** A tab that records everything that must not happen in it. */
export class Visit {
  /** Console and script errors, violations of the content policy, requests that leave this machine. */
  readonly troubles: string[] = [];
  readonly requests: string[] = [];

  private constructor(
    readonly page: Page,
    /** Console errors that a test causes itself: the browser logs each refused request. */
    readonly expected: RegExp,
  ) {}

  static async begin(
    where: Browser | BrowserContext,
    options: BrowserContextOptions & { expected?: RegExp; clock?: boolean } = {},
  ): Promise<Visit> {
    const { expected = /^$/, clock = false, ...rest } = options;
    const page =
      'newContext' in where
        ? await where.newPage({ viewport: { width: 1280, height: 900 }, ...rest })
        : await where.newPage();
    const visit = new Visit(page, expected);
    page.setDefaultTimeout(20_000);
    if (clock) await page.clock.install();
    page.on('console', (message) => {
      if (message.type() === 'error') visit.#note(`console: ${message.text()}`);
    });
    page.on('pageerror', (error) => visit.#note(`script: ${error.message}`));
    page.on('request', (request) => {
      visit.requests.push(request.url());
      const host = new URL(request.url()).hostname;
      if (host !== '127.0.0.1') visit.troubles.push(`left this machine: ${request.url()}`);
    });
    await page.addInitScript(() => {
      document.addEventListener('securitypolicyviolation', (event) => {
        console.error(`content policy: ${event.violatedDirective} ${event.blockedURI}`);
      });
    });
    return visit;
  }

  #note(trouble: string): void {
    if (!this.expected.test(trouble)) this.troubles.push(trouble);
  }

  /** Closes the tab and asserts that nothing went wrong. */
  async end(): Promise<void> {
    await this.page.close();
    expect(this.troubles).toEqual([]);
  }

  /**
   * Lets the time of the page pass at once, for a visit that began with a `clock`. The page has then done or requested
   * everything that it would do in this time. It first waits for pending answers, as the page does before it saves.
   */
  async pass(while_ms: number): Promise<void> {
    await this.page.locator('.stage[aria-busy="false"]').waitFor();
    await this.page.clock.runFor(while_ms);
  }

  /** How often the page has requested a save. */
  get saves(): number {
    return this.requests.filter((url) => url.endsWith('/api/save')).length;
  }

  /** Opens an address and waits until its figures are there. */
  async open(address: string): Promise<void> {
    await this.page.goto(address);
    await this.page.evaluate(() => document.fonts.ready);
    if (/#\/(plant|ways)\//.test(address)) await this.settled();
  }

  /** Waits until every figure belongs to the current values, and these are saved. */
  async settled(state: string | RegExp = /^Saved in/): Promise<void> {
    await this.page.locator('.stage[aria-busy="false"]:not(.stale)').waitFor();
    await this.page.getByRole('status').filter({ hasText: state }).waitFor();
    if ((await this.page.getByTestId('row').count()) > 0) {
      await this.sentence().waitFor({ state: 'attached' });
      await this.page.locator('.pictures[aria-busy="false"]').waitFor();
    }
  }

  /** The five answers as the page shows them. */
  async answers(): Promise<Record<(typeof ANSWERS)[number], AnswerText>> {
    const texts = ANSWERS.map(async (key) => {
      const door = this.page.getByTestId(`answer-${key}`);
      const text = (part: string) => door.locator(`.${part}`).innerText();
      return [key, { name: await text('name'), value: await text('value'), note: await text('note') }];
    });
    return Object.fromEntries(await Promise.all(texts)) as Record<(typeof ANSWERS)[number], AnswerText>;
  }

  /** The description of the picture for screen readers. */
  sentence() {
    return this.page.locator('figure svg > desc').first();
  }

  /** The field of an input in the open panel, by its label. */
  field(label: string) {
    return this.page.getByTestId('inputs').getByLabel(label, { exact: true });
  }
}

/** Repeats an assertion until it holds, for what takes a while. */
export function soon(what: () => Promise<void> | void, within_ms = 10_000): Promise<void> {
  return vi.waitFor(what, { timeout: within_ms, interval: 60 });
}
