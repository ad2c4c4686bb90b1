/** Questions to the server. */
import type {
  AnswerRequest,
  Brought,
  Day,
  DayRequest,
  Refusal,
  SaveRequest,
  Saved,
  Sent,
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
async function fetched<T>(path: string, request: RequestInit): Promise<T | null> {
  let response: Response;
  try {
    response = await fetch(path, request);
  } catch {
    throw new Refused(UNREACHABLE, { why: '', faults: [] });
  }
  if (response.status === 204) return null;
  if (response.ok) return (await response.json()) as T;
  const refusal = await response.json().catch(() => ({ why: response.statusText, faults: [] }));
  throw new Refused(response.status, refusal as Refusal);
}

function ask<T>(path: string, body?: unknown): Promise<T | null> {
  if (body === undefined) return fetched(path, {});
  const headers = { 'content-type': 'application/json' };
  return fetched(path, { method: 'POST', headers, body: JSON.stringify(body) });
}

export const plants = () => ask<Shelf>('/api/plants');
export const startPlant = (request: StartRequest) => ask<Started>('/api/plants', request);
export const answer = (request: AnswerRequest) => ask<Sent>('/api/answer', request);
export const day = (request: DayRequest) => ask<Day>('/api/day', request);
export const save = (request: SaveRequest) => ask<Saved>('/api/save', request);

/** Lays a file beside another of the plant; its name there. */
export async function bring(beside: string, file: File): Promise<string> {
  const query = new URLSearchParams({ beside, name: file.name });
  const headers = { 'content-type': 'application/octet-stream' };
  const request = { method: 'PUT', headers, body: file };
  const brought = await fetched<Brought>(`/api/file?${query.toString()}`, request);
  return brought?.name ?? file.name;
}

/** Counts the questions of a part of the page, so that the server leaves out those that a later one has overtaken. */
export function counter(): () => { page: string; number: number } {
  const page = `${Date.now().toString(36)}${Math.random().toString(36).slice(2)}`;
  let number = 0;
  return () => ({ page, number: ++number });
}
