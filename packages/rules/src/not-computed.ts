/** What is understood and not computed yet: said once for each file and matter, so that nothing passes silently. */
import { type ComponentId, type Design, NO_ORIGIN, type Origin, type Problem } from '@couplet/engine';
import { catalogueRow, type RuleName } from './catalogue.ts';
import { MATTERS, type MatterName } from './matters.ts';
import { UNCOMPUTED_RULES } from './registry.ts';
import type { Finding } from './rule.ts';

export function notComputedYet(
  design: Design,
  problems: Iterable<Problem>,
  fileOf: (origin: Origin) => string | undefined = () => undefined,
): readonly Finding[] {
  return [...ofRules(design, fileOf), ...ofLanguage(design, fileOf), ...ofAnalysis(design, problems)];
}

function ofRules(design: Design, fileOf: (origin: Origin) => string | undefined): readonly Finding[] {
  const byMatter = new Map<MatterName, RuleName[]>();
  for (const name of UNCOMPUTED_RULES) {
    const matter = catalogueRow(name).concerns;
    byMatter.set(matter, [...(byMatter.get(matter) ?? []), name]);
  }
  const findings: Finding[] = [];
  for (const [matter, names] of byMatter) {
    const files = new Set<string | undefined>();
    for (const id of MATTERS[matter].find(design)) {
      const origin = design.components[id]?.origin ?? NO_ORIGIN;
      const file = fileOf(origin);
      if (files.has(file)) continue;
      files.add(file);
      const message = `Not computed yet for ${MATTERS[matter].words}: ${names.join(', ')}.`;
      findings.push(information(message, origin, id));
    }
  }
  return findings;
}

/** What the language understood and lowered to nothing. */
function ofLanguage(design: Design, fileOf: (origin: Origin) => string | undefined): readonly Finding[] {
  const said = new Set<string>();
  const findings: Finding[] = [];
  for (const item of design.uncomputed) {
    const key = `${fileOf(item.origin) ?? ''}\n${item.what}`;
    if (said.has(key)) continue;
    said.add(key);
    findings.push(
      information(`Not computed yet: ${item.what}. Nothing is said of what depends on it.`, item.origin, 0),
    );
  }
  return findings;
}

/** What the analysis met and did not follow: each set of parts once for each reason, with the first case. */
function ofAnalysis(design: Design, problems: Iterable<Problem>): readonly Finding[] {
  const said = new Set<string>();
  const findings: Finding[] = [];
  for (const { sort, components, detail, caseName, moment } of problems) {
    const key = `${components.join(' ')}\n${detail}`;
    if (sort !== 'not-computed' || said.has(key)) continue;
    said.add(key);
    const [first] = components;
    const origin = (first === undefined ? undefined : design.components[first]?.origin) ?? design.site.origin;
    findings.push(
      information(`Not computed yet: ${detail.replace(/\.$/, '')} (case ${caseName}, ${moment}).`, origin, first ?? 0),
    );
  }
  return findings;
}

function information(message: string, origin: Origin, subject: ComponentId): Finding {
  return {
    rule: 'not-computed-yet',
    severity: 'information',
    message,
    origin,
    subject,
    concerns: [],
    explainsAt: [],
    related: [],
    figures: [],
    cures: [],
    assumptions: [],
  };
}
