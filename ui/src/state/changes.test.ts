import { describe, expect, it } from 'vitest';
import { History, withChange } from './changes';

const tank = { file: 'plant.toml', keys: 'tank.capacity_m3' };
const tilt = { file: 'plant.toml', keys: 'array.tilt_deg' };

describe('a history', () => {
  it('undoes and redoes steps', () => {
    const history = new History().with({ ...tank, from: 165, to: 200 }).with({ ...tilt, from: null, to: 10 });
    const back = history.undo();
    expect(back?.change).toEqual({ ...tilt, value: null });
    const further = back?.history.undo();
    expect(further?.change).toEqual({ ...tank, value: 165 });
    expect(further?.history.undo()).toBeNull();
    expect(further?.history.redo()?.change).toEqual({ ...tank, value: 200 });
  });

  it('forgets undone steps when a new step is made', () => {
    const history = new History().with({ ...tank, from: 165, to: 200 });
    const other = history.undo()!.history.with({ ...tilt, from: 18, to: 20 });
    expect(other.redo()).toBeNull();
    expect(other.done).toHaveLength(1);
  });
});

describe('changes', () => {
  it('count once for each value', () => {
    const changes = withChange(withChange([{ ...tank, value: 1 }], { ...tilt, value: 2 }), {
      ...tank,
      value: 3,
    });
    expect(changes).toEqual([
      { ...tilt, value: 2 },
      { ...tank, value: 3 },
    ]);
  });
});
