// axe on one screen: WCAG A and AA up to 2.2, and the stricter contrast of AAA that sunlight needs.
import { AxeBuilder } from './libraries.mjs';

const TAGS = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'];

/** A sentence for every violation, with the place; empty when there is none. */
export async function accessibilityFaults(page) {
  const report = await new AxeBuilder({ page })
    .options({
      runOnly: { type: 'tag', values: TAGS },
      rules: {
        'color-contrast-enhanced': { enabled: true },
        'target-size': { enabled: true },
        'landmark-unique': { enabled: true },
        'document-title': { enabled: true },
      },
    })
    .analyze();
  const ran = new Set(
    [...report.passes, ...report.violations, ...report.incomplete, ...report.inapplicable].map(
      (rule) => rule.id,
    ),
  );
  for (const rule of ['color-contrast-enhanced', 'target-size', 'landmark-unique', 'document-title']) {
    if (!ran.has(rule)) throw new Error(`axe did not run ${rule}`);
  }
  return report.violations.flatMap((rule) =>
    rule.nodes.map((node) => `${rule.id}: ${node.target.join(' ')} ${node.html.slice(0, 120)}`),
  );
}
