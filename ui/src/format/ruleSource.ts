import { sayCode } from '../words';

/** A source of a rule as the screens show it: how it is known comes as a code in brackets at the end. */
export function ruleSource(source: string): string {
  return source.replace(/ \((\w+)\)$/, (_, status: string) => ` (${sayCode('source', status)})`);
}
