/**
 * One piece of work at a time. What is asked for meanwhile waits, and only the newest of it is done: questions do not
 * pile up while a slider moves.
 */
export class Newest<T> {
  #work: (asked: T) => Promise<void>;
  #waiting: { asked: T } | null = null;
  #running: Promise<void> | null = null;

  constructor(work: (asked: T) => Promise<void>) {
    this.#work = work;
  }

  /** Whether something is still waiting to be done. */
  get isWanted(): boolean {
    return this.#waiting !== null;
  }

  /** Ends when nothing is asked for any more. */
  ask(asked: T): Promise<void> {
    this.#waiting = { asked };
    this.#running ??= this.#run();
    return this.#running;
  }

  async #run(): Promise<void> {
    try {
      while (this.#waiting) {
        const { asked } = this.#waiting;
        this.#waiting = null;
        await this.#work(asked);
      }
    } finally {
      this.#running = null;
    }
  }
}
