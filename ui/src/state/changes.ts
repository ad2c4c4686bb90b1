/** What a reader changes: the values that differ from the files, and the way back. */
import type { Change, Input, InputValue } from '../api/types';

/** Where a value stands. */
export type Place = Pick<Input, 'file' | 'keys'>;

/** Taken out of the file when null, so that its default holds. */
export type NewValue = InputValue | null;

/** One step of the history. */
export interface Step extends Place {
  from: NewValue;
  to: NewValue;
}

export const idOf = ({ file, keys }: Place): string => `${file}#${keys}`;

/** The value of an input as a change: a default stands in no file. */
export const valueOf = (input: Input): NewValue => (input.state === 'default' ? null : input.value);

export const same = (a: NewValue, b: NewValue): boolean => JSON.stringify(a) === JSON.stringify(b);

/** A history of steps that can be taken back and taken again. Each of its methods gives a new one. */
export class History {
  constructor(
    readonly done: readonly Step[] = [],
    readonly undone: readonly Step[] = [],
  ) {}

  /** With one more step; what had been taken back is gone. */
  with(step: Step): History {
    return new History([...this.done, step]);
  }

  /** The step that undoing takes back, as a change, and the history after it. */
  undo(): { change: Change; history: History } | null {
    const step = this.done.at(-1);
    if (!step) return null;
    return {
      change: { file: step.file, keys: step.keys, value: step.from },
      history: new History(this.done.slice(0, -1), [...this.undone, step]),
    };
  }

  redo(): { change: Change; history: History } | null {
    const step = this.undone.at(-1);
    if (!step) return null;
    return {
      change: { file: step.file, keys: step.keys, value: step.to },
      history: new History([...this.done, step], this.undone.slice(0, -1)),
    };
  }
}

/** Changes with one more; of two to the same value the later counts. */
export function withChange(changes: readonly Change[], change: Change): Change[] {
  return [...changes.filter((c) => idOf(c) !== idOf(change)), change];
}
