/** Requests to the server. */
import type {
  AnswerRequest,
  Uploaded,
  Day,
  DayRequest,
  Refusal,
  SaveRequest,
  Saved,
  Sent,
  PlantList,
  Started,
  StartRequest,
} from './types';

/** Why a request was refused. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly refusal: Refusal,
  ) {
    super(refusal.why);
  }
}

/** The status for a server that does not answer at all. */
export const UNREACHABLE = 0;

/** The answer; null if the page has sent a newer request since. */
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

export const plants = () => ask<PlantList>('/api/plants');
export const startPlant = (request: StartRequest) => ask<Started>('/api/plants', request);
export const answer = (request: AnswerRequest) => ask<Sent>('/api/answer', request);
export const day = (request: DayRequest) => ask<Day>('/api/day', request);
export const save = (request: SaveRequest) => ask<Saved>('/api/save', request);

/** Uploads a file into the folder of another file of the plant. Returns the name that it gets there. */
export async function upload(beside: string, file: File): Promise<string> {
  const query = new URLSearchParams({ beside, name: file.name });
  const headers = { 'content-type': 'application/octet-stream' };
  const request = { method: 'PUT', headers, body: file };
  const uploaded = await fetched<Uploaded>(`/api/file?${query.toString()}`, request);
  return uploaded?.name ?? file.name;
}

/** Numbers the requests of a part of the page, so that the server can skip all but the latest. */
export function counter(): () => { page: string; number: number } {
  const page = `${Date.now().toString(36)}${Math.random().toString(36).slice(2)}`;
  let number = 0;
  return () => ({ page, number: ++number });
}
