/** Starts the built program on copies of the examples. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Answer, Change, Day, Switched } from '../src/api/types';

export const ROOT = resolve(fileURLToPath(new URL('../..', import.meta.url)));
export const PLANT = 'plant.toml';

/** The program under test: the one that `DAYLIFT` names, else the one that cargo has built. */
export function program(): string {
  const built = ['release', 'debug'].map((kind) => join(ROOT, 'target', kind, 'daylift'));
  const found = process.env.DAYLIFT ? resolve(process.env.DAYLIFT) : built.find((path) => existsSync(path));
  if (!found || !existsSync(found)) throw new Error(`no program to test: ${found ?? built.join(', ')}`);
  return found;
}

/** An empty folder that is removed with `remove`. */
export function emptyFolder(): string {
  return mkdtempSync(join(tmpdir(), 'daylift-page-'));
}

export function copyOfExample(name = 'mulenga-ridge'): string {
  const folder = emptyFolder();
  cpSync(join(ROOT, 'examples', name), folder, { recursive: true });
  return folder;
}

/** What a command of the program prints. */
export function printed(...args: string[]): string {
  const ran = spawnSync(program(), args, { encoding: 'utf8', maxBuffer: 64 << 20 });
  if (ran.status !== 0) throw new Error(`daylift ${args.join(' ')}: ${ran.stderr}`);
  return ran.stdout;
}

/** A desk on loopback. */
export class Desk {
  #process: ChildProcess | undefined;
  /** Address without a path, `http://127.0.0.1:40123`. */
  origin = '';

  private constructor(readonly folder: string) {}

  static async open(folder: string): Promise<Desk> {
    const desk = new Desk(folder);
    await desk.start(0);
    return desk;
  }

  get port(): number {
    return Number(new URL(this.origin).port);
  }

  async start(port: number): Promise<void> {
    const started = spawn(program(), ['desk', this.folder, '--no-open', '--port', String(port)], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    this.#process = started;
    this.origin = await new Promise<string>((found, failed) => {
      let said = '';
      started.stderr.on('data', (part: Buffer) => {
        said += part.toString();
        const origin = /http:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0];
        if (origin) found(origin);
      });
      started.on('error', failed);
      started.on('exit', () => failed(new Error(`the desk ended: ${said}`)));
    });
  }

  /** Kills the program without a warning, like a power cut. */
  async kill(): Promise<void> {
    const running = this.#process;
    this.#process = undefined;
    if (!running || running.exitCode !== null) return;
    const ended = new Promise((done) => running.once('exit', done));
    running.kill('SIGKILL');
    await ended;
  }

  async remove(): Promise<void> {
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }

  read(file = PLANT): string {
    return readFileSync(join(this.folder, file), 'utf8');
  }

  write(text: string, file = PLANT): void {
    writeFileSync(join(this.folder, file), text);
  }

  /** The line of a key in a file; the first of that name. */
  line(key: string, file = PLANT): string {
    return (
      this.read(file)
        .split('\n')
        .find((line) => line.startsWith(`${key} =`)) ?? ''
    );
  }

  async #ask<T>(path: string, body: object): Promise<T> {
    const turn = { page: `test-${Math.random()}`, number: 1 };
    const response = await fetch(`${this.origin}${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ plant: PLANT, ...body, turn }),
    });
    if (response.status !== 200) throw new Error(`${path}: ${response.status} ${await response.text()}`);
    return (await response.json()) as T;
  }

  answer(looked_at: string, changes: readonly Change[] = []): Promise<Answer> {
    return this.#ask('/api/answer', { looked_at, changes });
  }

  day(arrangement: string, day: number, switched: readonly Switched[]): Promise<Day> {
    return this.#ask('/api/day', { arrangement, day, switched, changes: [] });
  }
}
