/** Questions to the server. */
import type {
  Answer,
  AnswerRequest,
  Day,
  DayRequest,
  Refusal,
  SaveRequest,
  Saved,
  Shelf,
  Started,
  StartRequest,
} from './types';

/** Why a question was not answered. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly refusal: Refusal,
  ) {
    super(refusal.why);
  }
}

/** Stands for a server that does not answer at all. */
export const UNREACHABLE = 0;

/** The answer; null when the page has asked again meanwhile. */
async function ask<T>(path: string, body?: unknown): Promise<T | null> {
  let response: Response;
  try {
    response = await fetch(path, {
      method: body === undefined ? 'GET' : 'POST',
      headers: body === undefined ? {} : { 'content-type': 'application/json' },
      body: body === undefined ? undefined : JSON.stringify(body),
    });
  } catch {
    throw new Refused(UNREACHABLE, { why: '', faults: [] });
  }
  if (response.status === 204) return null;
  if (response.ok) return (await response.json()) as T;
  const refusal = await response.json().catch(() => ({ why: response.statusText, faults: [] }));
  throw new Refused(response.status, refusal as Refusal);
}

export const plants = () => ask<Shelf>('/api/plants');
export const startPlant = (request: StartRequest) => ask<Started>('/api/plants', request);
export const answer = (request: AnswerRequest) => ask<Answer>('/api/answer', request);
export const day = (request: DayRequest) => ask<Day>('/api/day', request);
export const save = (request: SaveRequest) => ask<Saved>('/api/save', request);

/** Counts the questions of a part of the page, so that the server leaves out those that a later one has overtaken. */
export function counter(): () => { page: string; number: number } {
  const page = `${Date.now().toString(36)}${Math.random().toString(36).slice(2)}`;
  let number = 0;
  return () => ({ page, number: ++number });
}
