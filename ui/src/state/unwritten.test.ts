import { beforeEach, describe, expect, it } from 'vitest';
import { keepUnwritten, unwritten } from './unwritten';

const tank = { file: 'plant.toml', keys: 'tank.capacity_m3', value: -5 };

beforeEach(() => window.localStorage.clear());

describe('unsaved changes', () => {
  it('are kept for the same plant with the same files', () => {
    keepUnwritten('a/plant.toml', 'before', [tank]);
    expect(unwritten('a/plant.toml', 'before')).toEqual([tank]);
    expect(unwritten('a/plant.toml', 'after')).toEqual([]);
    expect(unwritten('b/plant.toml', 'before')).toEqual([]);
  });

  it('are removed once they are saved', () => {
    keepUnwritten('a', '1', [tank]);
    keepUnwritten('b', '1', [{ ...tank, value: 7 }]);
    keepUnwritten('a', '1', []);
    expect(unwritten('a', '1')).toEqual([]);
    expect(unwritten('b', '1')).toEqual([{ ...tank, value: 7 }]);
  });

  it('of the oldest plants are forgotten if there are too many', () => {
    for (let i = 0; i < 30; i++) keepUnwritten(`plant ${i}`, '1', [tank]);
    expect(unwritten('plant 0', '1')).toEqual([]);
    expect(unwritten('plant 29', '1')).toEqual([tank]);
  });

  it('are empty if the store holds something else', () => {
    for (const text of ['{', 'null', '[null, {"plant": "a", "stamp": "1"}]']) {
      window.localStorage.setItem('daylift.unwritten', text);
      expect(unwritten('a', '1')).toEqual([]);
    }
  });
});
