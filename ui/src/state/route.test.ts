import { describe, expect, it } from 'vitest';
import { format, parse } from './route.svelte';

describe('a link', () => {
  it('leads to the view from which it was made', () => {
    for (const hash of [
      '#/',
      '#/plant/plant.toml',
      '#/ways/farms/my%20farm/plant.toml?row=dual-mode',
      '#/plant/a/plant.toml?row=grid-only%2Bgenerator&beside=solar-drive&day=94&at=11:20',
    ]) {
      expect(format(parse(hash))).toBe(hash);
    }
  });

  it('that makes no sense leads to the start, and invalid parts are ignored', () => {
    expect(parse('#/elsewhere/plant.toml').view).toBe('start');
    expect(parse('#/plant').view).toBe('start');
    expect(parse('').view).toBe('start');
    const odd = parse('#/plant/%E0%A4%A?day=-3&at=99:99');
    expect(odd).toMatchObject({ view: 'plant', day: null, at_s: 12 * 3600 });
  });
});
