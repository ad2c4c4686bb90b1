/** Sliders dragged without a pause: the answers follow, and requests do not pile up. */
import { loadavg } from 'node:os';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { copyOfExample, Desk, PLANT } from './desk';
import { openBrowser, soon, Visit } from './visit';

const ROW = 'dual-mode';
const STEPS = 80;

/** What the page did during the drag; times in ms. */
interface Watched {
  /** When each value was set. */
  inputs: { value: number; at: number }[];
  /** Time from the input to the figures on the screen, for each answer. */
  latencies: number[];
  asked: number;
  inFlight: number;
  mostInFlight: number;
}

declare global {
  interface Window {
    watched: Watched;
  }
}

let browser: Browser;
let desk: Desk;

beforeAll(async () => {
  browser = await openBrowser();
  desk = await Desk.open(copyOfExample());
});

afterAll(async () => {
  await browser.close();
  await desk.remove();
});

/** Runs in the page before its own scripts: times each request from its input event. */
function watch(): void {
  const watched: Watched = { inputs: [], latencies: [], asked: 0, inFlight: 0, mostInFlight: 0 };
  window.watched = watched;
  document.addEventListener(
    'input',
    ({ target, timeStamp }) => {
      if (target instanceof HTMLInputElement)
        watched.inputs.push({ value: target.valueAsNumber, at: timeStamp });
    },
    true,
  );
  const own = window.fetch.bind(window);
  window.fetch = async (where, options) => {
    if (where !== '/api/answer') return own(where, options);
    const { changes } = JSON.parse(String(options?.body)) as { changes: { value: number }[] };
    const value = changes.at(-1)?.value;
    const set = watched.inputs.findLast((input) => input.value === value);
    watched.asked++;
    watched.mostInFlight = Math.max(watched.mostInFlight, ++watched.inFlight);
    const response = await own(where, options);
    watched.inFlight--;
    if (response.status === 200 && set) {
      const json = response.json.bind(response);
      response.json = async () => {
        const answer: unknown = await json();
        // The page puts the answer into the document before the next frame; a frame later it is on the screen.
        requestAnimationFrame(() => requestAnimationFrame((now) => watched.latencies.push(now - set.at)));
        return answer;
      };
    }
    return response;
  };
}

async function drag(page: Page, slider: string, to: number): Promise<number> {
  const range = page.getByTestId(slider);
  await range.scrollIntoViewIfNeeded();
  const box = (await range.boundingBox())!;
  const { share, least, greatest } = await range.evaluate((input: HTMLInputElement) => {
    const [least, greatest] = [Number(input.min), Number(input.max)];
    return { share: (input.valueAsNumber - least) / (greatest - least), least, greatest };
  });
  const THUMB = 16;
  const x = (share: number) => box.x + THUMB / 2 + share * (box.width - THUMB);
  const y = box.y + box.height / 2;
  await page.mouse.move(x(share), y);
  await page.mouse.down();
  const target = (to - least) / (greatest - least);
  for (let i = 1; i <= STEPS; i++) {
    await page.mouse.move(x(share + ((target - share) * i) / STEPS), y);
    // The slider moves with the frames of the screen.
    await page.evaluate(() => new Promise(requestAnimationFrame));
  }
  await page.mouse.up();
  return range.evaluate((input: HTMLInputElement) => input.valueAsNumber);
}

function quantile(of: readonly number[], share: number): number {
  const sorted = [...of].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? NaN;
}

for (const { slider, keys, key, to } of [
  { slider: 'slider-tank.capacity_m3', keys: 'tank.capacity_m3', key: 'capacity_m3', to: 45 },
  { slider: 'slider-array.tilt_deg', keys: 'array.tilt_deg', key: 'tilt_deg', to: 55 },
]) {
  it(`the answers follow ${keys} during a drag, and end at its last value`, async ({ annotate }) => {
    const visit = await Visit.begin(browser);
    const { page } = visit;
    await page.addInitScript(watch);
    await visit.open(`${desk.origin}/#/plant/${PLANT}?row=${ROW}`);
    const before = await visit.answers();
    const [load] = loadavg();
    const value = await drag(page, slider, to);
    await visit.settled();
    await soon(async () => expect(await page.evaluate(() => window.watched.inFlight)).toBe(0));
    const { inputs, latencies, asked, mostInFlight } = await page.evaluate(() => window.watched);

    expect(inputs.length).toBeGreaterThan(20);
    expect(latencies.length).toBeGreaterThan(2);
    expect(mostInFlight).toBe(1);
    expect(asked).toBeLessThanOrEqual(inputs.length + 3);
    expect(Math.abs(value - to)).toBeLessThan(8);
    // At the end the page shows the answer to the last value, and the file has that value.
    expect(desk.line(key)).toMatch(new RegExp(`^${key} = ${value}(?![\\d.])`));
    const after = await visit.answers();
    expect(after).not.toEqual(before);
    const fresh = await Visit.begin(browser);
    await fresh.open(page.url());
    expect(await fresh.answers()).toEqual(after);
    await fresh.end();

    const figures = [0.5, 0.95].map((share) => quantile(latencies, share).toFixed(0));
    await annotate(
      `${keys}: from the finger to the answers on the screen, median ${figures[0]} ms, 95th percentile ${figures[1]} ms ` +
        `(${latencies.length} answers to ${inputs.length} steps; load of the machine ${load?.toFixed(1)})`,
      'latency',
    );
    await visit.end();
  });
}
