import { beforeEach, describe, expect, it } from 'vitest';
import { keepUnwritten, unwritten } from './unwritten';

const tank = { file: 'plant.toml', keys: 'tank.capacity_m3', value: -5 };

beforeEach(() => window.localStorage.clear());

describe('changes that are not in the files', () => {
  it('are found again for the same plant with the same files', () => {
    keepUnwritten('a/plant.toml', 'before', [tank]);
    expect(unwritten('a/plant.toml', 'before')).toEqual([tank]);
    expect(unwritten('a/plant.toml', 'after')).toEqual([]);
    expect(unwritten('b/plant.toml', 'before')).toEqual([]);
  });

  it('are forgotten once there are none', () => {
    keepUnwritten('a', '1', [tank]);
    keepUnwritten('b', '1', [{ ...tank, value: 7 }]);
    keepUnwritten('a', '1', []);
    expect(unwritten('a', '1')).toEqual([]);
    expect(unwritten('b', '1')).toEqual([{ ...tank, value: 7 }]);
  });

  it('of a great many plants the oldest go', () => {
    for (let i = 0; i < 30; i++) keepUnwritten(`plant ${i}`, '1', [tank]);
    expect(unwritten('plant 0', '1')).toEqual([]);
    expect(unwritten('plant 29', '1')).toEqual([tank]);
  });

  it('a store that holds something else counts as empty', () => {
    for (const text of ['{', 'null', '[null, {"plant": "a", "stamp": "1"}]']) {
      window.localStorage.setItem('daylift.unwritten', text);
      expect(unwritten('a', '1')).toEqual([]);
    }
  });
});
