import { custody } from './custody';
import { circuits } from './circuits';
import { errors } from './errors';
import { handover } from './handover';
import { measuring } from './measuring';
import { money } from './money';
import { reasoning } from './reasoning';
import { shared } from './shared';
import { sharing } from './sharing';
import { shop } from './shop';
import { vehicle } from './vehicle';

/** English, the language the keys are taken from. */
export const en = {
  ...shared,
  ...shop,
  ...vehicle,
  ...measuring,
  ...reasoning,
  ...money,
  ...handover,
  ...sharing,
  ...custody,
  ...circuits,
  ...errors,
};

export type Key = keyof typeof en;
export type Words = Record<Key, string>;
