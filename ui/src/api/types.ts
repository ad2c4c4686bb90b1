/** What the server asks and answers; `schema.ts` is made from its description by `npm run types`. */
import type { Answer as Sent, Input, LookedAt } from './schema';

/** An answer as the page holds it: a brief one with what the last whole one told besides. */
export type Answer = Omit<Sent, 'inputs' | 'looked_at'> & {
  readonly inputs: readonly Input[];
  readonly looked_at: LookedAt;
};

export type {
  Answer as Sent,
  AnswerRequest,
  Behind,
  Brought,
  CanBeBuilt,
  Cash,
  Change,
  Day,
  DayChoice,
  DayRequest,
  FaultAt,
  Input,
  InputValue,
  LessWater,
  Lost,
  Moment,
  Picture,
  Refusal,
  Row,
  SaveRequest,
  Saved,
  Shelf,
  ShelvedPlant,
  StartRequest,
  Started,
  Strings,
  Switched,
  Traits,
  Working,
} from './schema';
