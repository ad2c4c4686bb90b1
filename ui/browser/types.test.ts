/** Every yes/no value and every value with a default by rule, changed on the page in each example: the file gets its TOML type. */
import { spawnSync } from 'node:child_process';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Change, Input, InputValue } from '../src/api/types';
import { idOf } from '../src/state/changes';
import { copyOfExample, Desk, PLANT, program } from './desk';
import { openBrowser, soon, Visit } from './visit';

let browser: Browser;

beforeAll(async () => {
  browser = await openBrowser();
});

afterAll(async () => {
  await browser.close();
});

/** A line of a file that gives a key a value of a kind, with or without a comment. */
const LINE: Record<'flag' | 'number' | 'numbers', RegExp> = {
  flag: /^\w+ = (true|false)( *#.*)?$/,
  number: /^\w+ = -?\d+(\.\d+)?( *#.*)?$/,
  numbers: /^\w+ = \[-?\d+(\.\d+)?(, *-?\d+(\.\d+)?)*\]( *#.*)?$/,
};

/** Lines of a text that another lacks. */
function newLines(before: string, after: string): string[] {
  const old = before.split('\n');
  return after.split('\n').filter((line) => !old.includes(line) && line !== '');
}

/**
 * The lines of a text that give values. A line that was taken out comes back at the end of its section without its
 * comment; a section that was made for a value stays, empty.
 */
function values(text: string): string {
  const lines = text.split('\n').map((line) => line.replace(/ *#.*/, ''));
  return lines
    .filter((line) => line !== '' && !line.startsWith('['))
    .sort()
    .join('\n');
}

/** A plant of an example, open in the panel of its inputs. */
class Opened {
  private constructor(
    readonly desk: Desk,
    readonly visit: Visit,
  ) {}

  static async at(example: string): Promise<Opened> {
    const desk = await Desk.open(copyOfExample(example));
    // The browser logs each refused value.
    const visit = await Visit.begin(browser, { expected: /422 \(Unprocessable/ });
    await visit.open(`${desk.origin}/#/plant/${PLANT}`);
    await visit.page.locator('button.inputs').click();
    await visit.page.getByTestId('inputs').waitFor();
    return new Opened(desk, visit);
  }

  async inputs(changes: readonly Change[] = []): Promise<readonly Input[]> {
    return (await this.desk.answer('', changes)).inputs ?? [];
  }

  field(input: Input) {
    return this.visit.page.locator(`[data-testid="input-${idOf(input)}"]`);
  }

  async type(input: Input, text: string): Promise<void> {
    const box = this.field(input).getByRole('textbox');
    await box.fill(text);
    await box.press('Enter');
  }

  /** Waits until a file holds what is wanted, saved. */
  async saved(file: string, holds: (text: string) => boolean): Promise<string> {
    await soon(() => expect(holds(this.desk.read(file))).toBe(true), 20_000);
    await this.visit.settled();
    return this.desk.read(file);
  }

  /** Takes back every step, until a file has its old values again. */
  async undo(input: Input, before: string, steps: number): Promise<void> {
    const button = this.visit.page.getByRole('button', { name: 'Undo', exact: true });
    for (let step = 0; step < steps; step++) await button.click();
    await this.saved(input.file, (text) => values(text) === values(before));
    expect(await button.isDisabled()).toBe(true);
    const again = (await this.inputs()).find((one) => idOf(one) === idOf(input));
    expect(again?.value).toEqual(input.value);
  }

  /** What `daylift check` says is wrong; empty when it accepts the plant. */
  faults(): string {
    const ran = spawnSync(program(), ['check', this.desk.folder], { encoding: 'utf8' });
    return ran.status === 0 ? '' : ran.stderr || `exit code ${ran.status}`;
  }

  /** Paths of the faults that a change would bring. */
  async refusals(change: Change): Promise<string[]> {
    const response = await fetch(`${this.desk.origin}/api/answer`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({
        plant: PLANT,
        changes: [change],
        looked_at: null,
        turn: { page: `test-${Math.random()}`, number: 1 },
      }),
    });
    const body = (await response.json()) as { faults?: { path: string }[] };
    return response.status === 200 ? [] : (body.faults ?? []).map((fault) => fault.path);
  }

  async end(): Promise<void> {
    await this.visit.end();
    await this.desk.remove();
  }
}

const changeOf = ({ file, keys }: Input, value: InputValue | null): Change => ({ file, keys, value });
const pathOf = ({ section, keys }: Input) => `${section}.${keys.slice(keys.lastIndexOf('.') + 1)}`;

/** A value unlike the one that holds, of the kind and within the range that the input names. */
async function another(opened: Opened, input: Input): Promise<number | number[]> {
  const { least, greatest } = input.range!;
  const middle = Math.round((least + greatest) / 2);
  const list = (length: number, of: (i: number) => number) => Array.from({ length }, (_, i) => of(i));
  const { kind, length } = input;
  const tried =
    kind === 'number'
      ? [middle, greatest, least]
      : kind === 'windows'
        ? [
            [7, 16],
            [least, greatest],
          ]
        : [list(length!, (i) => (i < length! / 2 ? greatest : middle)), list(length!, () => middle)];
  for (const value of tried) {
    if (JSON.stringify(value) === JSON.stringify(input.value)) continue;
    if ((await opened.refusals(changeOf(input, value))).length === 0) return value;
  }
  // A rule between values may allow only the one that the file had.
  const held = input.value;
  if (typeof held === 'number' || Array.isArray(held)) return held as number | number[];
  throw new Error(`no other value of ${input.keys} is accepted`);
}

/** A value that the reader switches, and what becomes of it. */
async function flip(opened: Opened, input: Input): Promise<'written' | 'refused'> {
  const before = opened.desk.read(input.file);
  const to = input.value !== true;
  const refusals = await opened.refusals(changeOf(input, to));
  await opened
    .field(input)
    .getByRole('radio', { name: to ? 'yes' : 'no', exact: true })
    .click();
  if (refusals.length > 0) {
    // Another value is missing then; this one is of the right type.
    expect(refusals).not.toContain(pathOf(input));
    await opened.visit.page.getByTestId('faults').waitFor();
    expect(opened.desk.read(input.file)).toBe(before);
    await opened.undo(input, before, 1);
    return 'refused';
  }
  const after = await opened.saved(input.file, (text) => text !== before);
  const [line, ...more] = newLines(before, after);
  expect(more).toEqual([]);
  expect(line).toMatch(LINE.flag);
  expect(line).toContain(`= ${to}`);
  expect(opened.faults()).toBe('');
  await opened.undo(input, before, 1);
  return 'written';
}

/** A value that the reader leaves to its default or rule, then gives. */
async function give(opened: Opened, input: Input): Promise<void> {
  const before = opened.desk.read(input.file);
  let without = before;
  if (input.state !== 'default') {
    await opened.type(input, '');
    without = await opened.saved(input.file, (text) => text !== before);
    expect(newLines(before, without)).toEqual([]);
    expect(opened.faults()).toBe('');
  }
  const box = opened.field(input).getByRole('textbox');
  if (input.rule) {
    await soon(async () => expect(await box.inputValue()).toBe(''));
    expect(await box.getAttribute('placeholder')).toBe(input.rule);
  }
  const value = await another(opened, input);
  await opened.type(input, String(value));
  const after = await opened.saved(input.file, (text) => text !== without);
  const [line, ...more] = newLines(without, after).filter((line) => !/^\[/.test(line));
  expect(more).toEqual([]);
  expect(line).toMatch(LINE[Array.isArray(value) ? 'numbers' : 'number']);
  expect(opened.faults()).toBe('');
  await opened.undo(input, before, input.state === 'default' ? 1 : 2);
}

describe.each(['mulenga-ridge', 'tamarind-post', 'three-weirs'])('%s', (example) => {
  it('takes every yes/no value as one', { timeout: 180_000 }, async () => {
    const opened = await Opened.at(example);
    const flags = (await opened.inputs()).filter((input) => input.kind === 'yes-no');
    expect(flags.length).toBeGreaterThan(0);
    const became = new Map<string, string>();
    for (const flag of flags) became.set(flag.keys, await flip(opened, flag));
    console.log(example, Object.fromEntries(became));
    await opened.end();
  });

  it('takes every value with a default by rule as a number or a list', { timeout: 600_000 }, async () => {
    const opened = await Opened.at(example);
    const ruled = (await opened.inputs()).filter(
      ({ rule, kind, has_default }) => rule !== null || (kind === 'numbers' && has_default),
    );
    expect(ruled.filter(({ rule }) => rule !== null).length).toBeGreaterThan(0);
    for (const input of ruled) await give(opened, input);
    console.log(
      example,
      ruled.map((input) => input.keys),
    );
    await opened.end();
  });
});
