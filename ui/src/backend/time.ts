import type { AuthoritiesView } from '../bindings/AuthoritiesView';
import type { AuthorityEntry } from '../bindings/AuthorityEntry';
import { call } from './shell';

/** Chosen authorities, and what waits for them. */
export const authoritiesView = () => call<AuthoritiesView>('authorities_view');
/** Chooses an authority, or changes its roots. */
export const authorityKeep = (entry: AuthorityEntry) => call<AuthoritiesView>('authority_keep', { entry });
/** Asks this authority no longer. */
export const authorityRemove = (address: string) => call<AuthoritiesView>('authority_remove', { address });
/** Asks for every time that is due; with `all` for every one that waits. */
export const timestampsFetch = (all: boolean) => call<AuthoritiesView>('timestamps_fetch', { all });
