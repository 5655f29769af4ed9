import type { ErrorView } from '../bindings/ErrorView';

/** Whatever was thrown, in the shape in which the core refuses: code, values, detail. */
export function failure(thrown: unknown): ErrorView {
  if (isErrorView(thrown)) return thrown;
  const detail = thrown instanceof Error ? thrown.message : String(thrown);
  return { code: 'unexpected', values: {}, detail };
}

function isErrorView(thrown: unknown): thrown is ErrorView {
  return (
    typeof thrown === 'object' &&
    thrown !== null &&
    'code' in thrown &&
    typeof thrown.code === 'string' &&
    'values' in thrown &&
    typeof thrown.values === 'object'
  );
}
