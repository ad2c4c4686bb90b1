/** One opened plant: its answer, the changes of the user, and its files. */
import { answer, counter, Refused, save, UNREACHABLE } from '../api/client';
import type { Answer, Change, FaultAt, Input, Sent } from '../api/types';
import { History, idOf, same, valueOf, withChange, type NewValue, type Place } from './changes';
import { Newest } from './newest';
import { keepUnwritten, unwritten } from './unwritten';

/** Time without changes after which a change is saved, in ms. */
const QUIET_MS = 700;
/** Time after which a server that did not answer is tried again, in ms. */
const AGAIN_MS = 2000;

/** Placeholder until an arrangement has been looked at. */
const NOBODY: Answer['looked_at'] = { id: '', months: [], workings: [] };

export class OpenPlant {
  /** The last good answer. It stays until the next one arrives, and as long as the files have faults. */
  answer = $state.raw<Answer | null>(null);
  faults = $state.raw<readonly FaultAt[]>([]);
  /** Any trouble other than faults, in words; empty if there is none. */
  trouble = $state('');
  /** Whether the server does not answer. */
  away = $state(false);
  asking = $state(false);
  /** Whether the user is dragging a value. */
  moving = $state(false);
  /** Whether another program has changed the files. */
  changedUnderneath = $state(false);
  /** Changes that are not saved yet. */
  pending = $state.raw<readonly Change[]>([]);
  history = $state.raw(new History());
  /** Unsaved changes of an earlier visit, until the user restores or discards them. */
  left = $state.raw<readonly Change[]>([]);

  #stamp = '';
  #turn = counter();
  #questions = new Newest<void>(async () => {
    await this.#find();
    this.asking = this.#questions.isWanted;
  });
  #again: ReturnType<typeof setTimeout> | undefined;
  /** Whether the first answer has arrived. */
  #visited = false;
  #lookedAt: string | null = null;
  #saving: ReturnType<typeof setTimeout> | undefined;
  #writing = false;
  /** Counts the starts and ends of saving. */
  #writes = 0;
  /** Values before the change that is in progress. */
  #before = new Map<string, NewValue>();

  constructor(readonly id: string) {}

  /** Whether old results are shown, as new ones are on their way or not available. */
  get stale(): boolean {
    return this.asking || this.faults.length > 0 || this.away;
  }

  get unsaved(): boolean {
    return this.pending.length > 0;
  }

  input(place: Place): Input | undefined {
    return this.answer?.inputs.find((input) => idOf(input) === idOf(place));
  }

  /** Selects an arrangement; its workings come with the next answer. */
  lookAt(row: string): void {
    if (row === this.#lookedAt) return;
    this.#lookedAt = row || null;
    void this.ask();
  }

  /** Changes a value; `settled` if the user has finished the change. */
  change(place: Place, value: NewValue, settled: boolean): void {
    const id = idOf(place);
    if (!this.#before.has(id)) {
      const waiting = this.pending.find((change) => idOf(change) === id);
      const input = this.input(place);
      this.#before.set(id, waiting ? (waiting.value ?? null) : input ? valueOf(input) : null);
    }
    const { file, keys } = place;
    this.pending = withChange(this.pending, { file, keys, value });
    if (settled) {
      const from = this.#before.get(id) ?? null;
      this.#before.delete(id);
      if (!same(from, value)) this.history = this.history.with({ file, keys, from, to: value });
    }
    this.moving = this.#before.size > 0;
    if (settled) this.#keep();
    void this.ask();
    this.#saveSoon();
  }

  #differs({ file, keys, value }: Change): boolean {
    const input = this.input({ file, keys });
    return !input || !same(valueOf(input), value ?? null);
  }

  /** Keeps the unsaved changes for the case that the page is closed. */
  #keep(): void {
    if (this.#stamp === '') return;
    const all = this.pending.reduce<readonly Change[]>(withChange, this.left);
    keepUnwritten(this.id, this.#stamp, all);
  }

  /** Applies the unsaved changes of the earlier visit. */
  restore(): void {
    const [left, newer] = [this.left, this.pending];
    this.left = [];
    for (const { file, keys, value } of left) {
      if (!newer.some((change) => idOf(change) === idOf({ file, keys })))
        this.change({ file, keys }, value ?? null, true);
    }
    this.#keep();
  }

  /** Forgets the unsaved changes of the earlier visit. */
  discard(): void {
    this.left = [];
    this.#keep();
  }

  undo(): void {
    this.#step(this.history.undo());
  }

  redo(): void {
    this.#step(this.history.redo());
  }

  #step(step: { change: Change; history: History } | null): void {
    if (!step) return;
    this.history = step.history;
    this.pending = withChange(this.pending, step.change);
    this.#keep();
    void this.ask();
    this.#saveSoon();
  }

  /** Requests the answer for the current values; resolves when no request is left. */
  async ask(): Promise<void> {
    clearTimeout(this.#again);
    this.asking = true;
    await this.#questions.ask();
  }

  async #find(): Promise<void> {
    const writes = this.#writes;
    try {
      const found = await answer({
        plant: this.id,
        changes: [...this.pending],
        looked_at: this.#lookedAt,
        brief: this.answer !== null && this.moving,
        turn: this.#turn(),
      });
      if (found) this.#take(found, writes);
    } catch (error) {
      this.#tell(error);
    }
  }

  #take(found: Sent, writes: number): void {
    const inputs = found.inputs ?? this.answer?.inputs ?? [];
    const looked_at = found.looked_at ?? this.answer?.looked_at ?? NOBODY;
    this.answer = { ...found, inputs, looked_at };
    this.faults = [];
    this.trouble = '';
    if (this.away) this.#saveSoon();
    this.away = false;
    // An answer requested during a save may describe the files before it.
    const undisturbed = !this.#writing && writes === this.#writes;
    if (this.#stamp === '') {
      this.#stamp = found.stamp;
      if (!this.#visited)
        this.left = unwritten(this.id, found.stamp).filter((change) => this.#differs(change));
      this.#visited = true;
    } else if (found.stamp !== this.#stamp && undisturbed) this.changedUnderneath = true;
  }

  #tell(error: unknown): void {
    if (!(error instanceof Refused)) throw error;
    this.away = error.status === UNREACHABLE;
    this.faults = error.refusal.faults;
    this.trouble = error.refusal.faults.length > 0 ? '' : error.refusal.why;
    clearTimeout(this.#again);
    if (this.away) this.#again = setTimeout(() => void this.ask(), AGAIN_MS);
  }

  #saveSoon(): void {
    clearTimeout(this.#saving);
    this.#saving = setTimeout(() => void this.saveNow(), QUIET_MS);
  }

  /** Saves the pending changes. */
  async saveNow(): Promise<void> {
    clearTimeout(this.#saving);
    if (this.changedUnderneath || this.#writing || this.away || this.pending.length === 0) return;
    if (this.asking || this.#before.size > 0) return this.#saveSoon();
    // Values with faults stay here and are not saved.
    if (this.faults.length > 0 || this.#stamp === '') return;
    const written = this.pending;
    this.#writing = true;
    this.#writes++;
    try {
      const saved = await save({ plant: this.id, changes: [...written], stamp: this.#stamp });
      keepUnwritten(this.id, this.#stamp, []);
      if (saved) this.#stamp = saved.stamp;
      this.pending = this.pending.filter((change) => !written.includes(change));
    } catch (error) {
      if (error instanceof Refused && error.status === 409) this.changedUnderneath = true;
      else this.#tell(error);
    } finally {
      this.#writing = false;
      this.#writes++;
      this.#keep();
    }
    if (this.pending.length > 0) this.#saveSoon();
  }

  /** Uses the files as they are on the disk; discards unsaved changes. */
  takeTheFiles(): void {
    this.pending = [];
    this.#keep();
    this.history = new History();
    this.#before.clear();
    this.moving = false;
    this.#stamp = '';
    this.changedUnderneath = false;
    void this.ask();
  }

  /** Saves the changes of the user into the files as they are now. */
  async keepMine(): Promise<void> {
    this.#stamp = '';
    this.changedUnderneath = false;
    await this.ask();
    await this.saveNow();
  }
}
