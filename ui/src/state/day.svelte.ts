/** The day of one arrangement. It is requested again when anything that it depends on changes. */
import { counter, day as askDay, Refused } from '../api/client';
import type { Change, Day, DayRequest } from '../api/types';
import { Newest } from './newest';

type Question = Omit<DayRequest, 'turn' | 'changes'> & { changes: readonly Change[] };

export class DayOf {
  day = $state.raw<Day | null>(null);
  trouble = $state('');
  /** Whether another day is on its way. */
  asking = $state(false);
  #turn = counter();
  #questions = new Newest<Question>(async (question) => {
    try {
      await this.#find(question);
    } finally {
      this.asking = this.#questions.isWanted;
    }
  });

  ask(question: Question): Promise<void> {
    this.asking = true;
    return this.#questions.ask(question);
  }

  async #find(question: Question): Promise<void> {
    try {
      const found = await askDay({ ...question, changes: [...question.changes], turn: this.#turn() });
      if (!found) return;
      this.day = found;
      this.trouble = '';
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      // Faults of the plant are shown at the top of the page.
      this.trouble = error.refusal.faults.length > 0 ? '' : error.refusal.why;
    }
  }
}
