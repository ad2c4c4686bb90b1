import { describe, expect, it, vi } from 'vitest';
import { Newest } from './newest';

describe('requests during work', () => {
  it('leave only the newest to be done, one at a time', async () => {
    const done: number[] = [];
    let running = 0;
    let most = 0;
    let end = (): void => {};
    const newest = new Newest<number>(async (n) => {
      most = Math.max(most, ++running);
      await new Promise<void>((ended) => (end = ended));
      running--;
      done.push(n);
    });
    const all = [1, 2, 3, 4].map((n) => newest.ask(n));
    end();
    await vi.waitFor(() => expect(done).toEqual([1]));
    end();
    await Promise.all(all);
    expect(done).toEqual([1, 4]);
    expect(most).toBe(1);
    const last = newest.ask(5);
    end();
    await last;
    expect(done).toEqual([1, 4, 5]);
  });

  it('are done even if earlier work fails', async () => {
    const newest = new Newest<boolean>(async (fails) => {
      await Promise.resolve();
      if (fails) throw new Error('no');
    });
    await expect(newest.ask(true)).rejects.toThrow('no');
    await expect(newest.ask(false)).resolves.toBeUndefined();
  });
});
