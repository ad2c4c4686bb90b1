/** Takes the picture of the page that README and guide show: `cargo xtask picture`. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { copyOfExample, Desk, PLANT, ROOT } from './desk';
import { openBrowser, Visit } from './visit';

const ROW = 'dual-mode';
const MOST_BYTES = 200_000;

it('takes the picture', async () => {
  const browser = await openBrowser();
  const desk = await Desk.open(copyOfExample());
  const visit = await Visit.begin(browser, {
    viewport: { width: 1180, height: 1045 },
    reducedMotion: 'reduce',
    colorScheme: 'light',
  });
  const clear = (await desk.answer(ROW)).days.find((day) => day.kind === 'clear')!;
  await visit.open(`${desk.origin}/#/plant/${PLANT}?row=${ROW}&day=${clear.day}&at=11:30`);
  const taken = await visit.page.screenshot({ animations: 'disabled', caret: 'hide' });
  writeFileSync(join(ROOT, 'docs', 'page.png'), taken);
  expect(taken.length).toBeLessThan(MOST_BYTES);
  await visit.end();
  await browser.close();
  await desk.remove();
});
