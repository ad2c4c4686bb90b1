/** The changes of the user: the values that differ from the files, and their undo history. */
import type { Change, Input, InputValue } from '../api/types';

/** The place of a value. */
export type Place = Pick<Input, 'file' | 'keys'>;

/** Null removes the value from the file, so that its default holds. */
export type NewValue = InputValue | null;

/** One step of the history. */
export interface Step extends Place {
  from: NewValue;
  to: NewValue;
}

export const idOf = ({ file, keys }: Place): string => `${file}#${keys}`;

/** The value of an input as a change; null for a default, which is not in a file. */
export const valueOf = (input: Input): NewValue => (input.state === 'default' ? null : input.value);

export const same = (a: NewValue, b: NewValue): boolean => JSON.stringify(a) === JSON.stringify(b);

/** A history of steps for undo and redo. Each method returns a new history. */
export class History {
  constructor(
    readonly done: readonly Step[] = [],
    readonly undone: readonly Step[] = [],
  ) {}

  /** Adds a step; steps that were undone are gone. */
  with(step: Step): History {
    return new History([...this.done, step]);
  }

  /** The change that undoes the last step, and the history after it. */
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

/** Adds a change; it replaces an earlier change of the same value. */
export function withChange(changes: readonly Change[], change: Change): Change[] {
  return [...changes.filter((c) => idOf(c) !== idOf(change)), change];
}
