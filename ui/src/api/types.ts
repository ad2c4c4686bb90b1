/** The requests and answers of the server. `npm run types` makes `schema.ts` from their description. */
import type { Answer as Sent, Input, LookedAt } from './schema';

/** An answer as the page keeps it: a brief answer is completed from the last full one. */
export type Answer = Omit<Sent, 'inputs' | 'looked_at'> & {
  readonly inputs: readonly Input[];
  readonly looked_at: LookedAt;
};

export type {
  Answer as Sent,
  AnswerRequest,
  RowDetail,
  Uploaded,
  CanBeBuilt,
  Cash,
  Change,
  Day,
  DayChoice,
  DayRequest,
  FaultAt,
  Input,
  InputValue,
  Lost,
  Moment,
  Pair,
  Picture,
  Refusal,
  Row,
  Rule,
  SaveRequest,
  Service,
  Saved,
  PlantList,
  ListedPlant,
  StartRequest,
  Started,
  Strings,
  Switched,
  Traits,
  Working,
} from './schema';
