/**
 * Does one piece of work at a time. Of the requests that come meanwhile, only the newest is done, so that requests do not
 * pile up while a slider moves.
 */
export class Newest<T> {
  #work: (asked: T) => Promise<void>;
  #waiting: { asked: T } | null = null;
  #running: Promise<void> | null = null;

  constructor(work: (asked: T) => Promise<void>) {
    this.#work = work;
  }

  /** Whether a request is waiting. */
  get isWanted(): boolean {
    return this.#waiting !== null;
  }

  /** Resolves when no request is left. */
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
