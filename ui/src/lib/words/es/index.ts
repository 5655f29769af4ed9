import type { Words } from '../en';
import { errors } from './errors';
import { handover } from './handover';
import { measuring } from './measuring';
import { money } from './money';
import { reasoning } from './reasoning';
import { shared } from './shared';
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
  ...errors,
};
