import type { Words } from '../en';
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

/** Spanish, with exactly the keys of English. */
export const es: Words = {
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
