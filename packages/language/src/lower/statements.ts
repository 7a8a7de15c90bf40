/** Statements beside components, wires and cases: the site, settings, readings, acceptances, what is spare. */
import {
  type Acceptance,
  type ComponentId,
  exact,
  type Reading,
  type SiteFacts,
  type TerminalId,
} from '@couplet/engine';
import type {
  Accept,
  Measured,
  Program,
  Reference,
  Site as SiteNode,
  Spare,
  TypeDeclaration,
} from '../generated/ast.ts';
import { referenceText } from '../references/names.ts';
import { Bag, bodyItems } from './bags.ts';
import type { Cases } from './cases.ts';
import { ambientDatum, type Declarations } from './declare.ts';
import { reportUnknown } from './elements.ts';
import { Facts } from './facts.ts';
import type { Part } from './part.ts';
import { componentOf, endsAt, resolve, type Target } from './resolve.ts';
import type { Scope } from './scope.ts';
import type { Site } from './site.ts';

export function siteFacts(site: Site, node: SiteNode, scope: Scope): SiteFacts {
  const bag = new Bag();
  bag.read(bodyItems(node.body), scope);
  const facts = new Facts(site.reader, bag, 'site', site.origins.of(node));
  const limits: SiteFacts['limits'][number][] = [];
  const group = bag.group('limits');
  if (group !== undefined) {
    const inner = new Bag();
    inner.read(bodyItems(group.body), scope);
    const of = new Facts(site.reader, inner, 'limits', facts.origin);
    for (const rule of inner.all().keys()) {
      const amount = of.amount(rule);
      if (amount === undefined) continue;
      limits.push({ rule, value: amount.usual, dimension: amount.dimension, origin: of.at(amount.node) });
    }
  }
  const count = (name: string) => {
    const amount = facts.amount(name, 'number');
    return amount === undefined ? facts.assumed(name) : exact(amount.usual, facts.at(amount.node));
  };
  return {
    title: node.title.join(' '),
    origin: facts.origin,
    ambient: ambientDatum(facts),
    blind: count('blind'),
    blindFitting: count('blind-fitting'),
    limits,
  };
}

/** Puts what is programmed over what is written; keeps the settings of units for the settings sheet. */
export function program(site: Site, node: Program, scope: Scope): void {
  const found = ownerOf(site, node.target, scope);
  if (found === undefined) return;
  const { part, member } = found;
  if (node.setting !== undefined) {
    keepSetting(site, part, node.setting, node, scope);
    return;
  }
  if (node.property === undefined) return;
  const first = keepSetting(
    site,
    part,
    member === undefined ? node.property : `${member} ${node.property}`,
    node,
    scope,
  );
  if (!first) return;
  const bag = member === undefined ? part.bag : part.bag.withinHere(member);
  bag.set(node.property, { values: node.values, node, scope });
}

/** Keeps a setting for the settings sheet; false where there is one already. */
function keepSetting(site: Site, part: Part, name: string, node: Program, scope: Scope): boolean {
  let settings = site.settings.get(part);
  if (settings === undefined) {
    settings = new Map();
    site.settings.set(part, settings);
  }
  const before = settings.get(name);
  if (before === undefined) {
    settings.set(name, { program: node, scope });
    return true;
  }
  const elsewhere = site.sameFile(node, before.program) ? `on line ${site.line(before.program)}` : 'in another file';
  const message = `'${name}' of ${part.name} is programmed already, ${elsewhere}.`;
  const related = [{ node: before.program, message: 'It is programmed here first.' }];
  site.report('programmed-twice', node, message, { related });
  return false;
}

/** The part that a reference begins with, and the member named in it, before parts have members. */
function ownerOf(
  site: Site,
  reference: Reference | undefined,
  scope: Scope,
  depth = 0,
): { readonly part: Part; readonly member?: string } | undefined {
  const head = reference?.head?.$refText;
  if (reference === undefined || head === undefined || depth > MOST_STEPS) return undefined;
  let named = scope.find(head);
  const names = reference.steps.map((step) => step.parts.map((part) => part.$refText).join('-'));
  if (named?.sort === 'alias') {
    const owner = ownerOf(site, named.reference, named.scope, depth + 1);
    return owner?.member === undefined && owner !== undefined ? { part: owner.part, member: names[0] } : owner;
  }
  while (named?.sort === 'space') named = named.scope.names.get(names.shift() ?? '');
  return named?.sort === 'part' ? { part: named.part, member: names[0] } : undefined;
}

const MOST_STEPS = 32;

/** The value of a setting named as a value: `level."Beacon time"`. */
export function settingValue(site: Site, reference: Reference, scope: Scope) {
  const last = reference.steps.at(-1);
  if (last === undefined) return undefined;
  const named = ownerOf(site, reference, scope);
  const setting = named?.member === undefined ? undefined : site.settings.get(named.part)?.get(named.member);
  const value = setting?.program.values[0];
  return setting === undefined || value === undefined ? undefined : { value, scope: setting.scope };
}

// ---- spare, measured, accept ----

export function spare(site: Site, node: Spare, scope: Scope): void {
  for (const reference of node.targets) {
    const target = resolve(site, reference, scope);
    if (target === undefined) reportUnknown(site, reference, scope);
    else if (target.sort !== 'missing') site.spare.push(...spareTerminals(site, reference, target));
  }
}

function spareTerminals(site: Site, reference: Reference, target: Target): TerminalId[] {
  switch (target.sort) {
    case 'core':
      return target.lines.flatMap((line) => line.pieces.flatMap((piece) => [piece.first, piece.second]));
    case 'core end':
      return target.lines.flatMap((line) => endsAt(line, target.place));
    case 'pole':
      return target.pass === undefined ? [] : [target.pass.first, target.pass.second];
    case 'point': {
      const { terminal, pass, component } = target.point;
      if (terminal !== undefined) return [terminal];
      if (pass !== undefined) return [pass.first, pass.second];
      const part = component === undefined ? undefined : site.components[component];
      return part !== undefined && 'a' in part && 'b' in part ? [part.a, part.b] : [];
    }
    case 'part':
      return terminalsOf(target.part);
    default:
      site.report('spare-nothing', reference, `${referenceText(reference)} has no terminal that could be spare.`);
      return [];
  }
}

function terminalsOf(part: Part): TerminalId[] {
  const terminals = new Set<TerminalId>();
  if (part.alone !== undefined && 'terminal' in part.alone) terminals.add(part.alone.terminal);
  for (const { terminal, core } of part.points.values()) {
    if (terminal !== undefined) terminals.add(terminal);
    for (const piece of core?.pieces ?? []) terminals.add(piece.first).add(piece.second);
  }
  return [...terminals];
}

export function measured(site: Site, node: Measured, scope: Scope, cases: Cases): void {
  const celsius = cases.datum(node.temperature, scope, 'degC');
  for (const row of node.readings) {
    const subject = row.measure === undefined ? undefined : cases.measured(row.measure, scope);
    const amount = cases.amount(row.value, scope);
    const named = caseName(site, row.case, scope, cases);
    if (subject === undefined || amount === undefined || named === undefined || subject.sort === 'component') continue;
    const where =
      subject.sort === 'amps'
        ? { quantity: 'amps' as const, component: subject.component }
        : { quantity: subject.quantity, a: subject.a, b: subject.b };
    const reading: Reading = {
      case: named,
      ...where,
      value: amount.usual,
      date: isoDate(node.date),
      by: node.by,
      with: node.instrument,
      celsius,
      origin: site.origins.of(row),
    };
    site.readings.push(reading);
  }
}

/** The case of the design that a reference means, or 'rest', which need not be written. */
export function caseName(site: Site, reference: Reference | undefined, scope: Scope, cases: Cases): string | undefined {
  if (reference === undefined) return undefined;
  const number = cases.caseAt(reference, scope);
  const found = number === undefined ? undefined : site.cases[number]?.name;
  return found ?? (referenceText(reference) === 'rest' ? 'rest' : undefined);
}

/** `2028-1-5` with its zeros. */
function isoDate(text: string | undefined): string {
  return (text ?? '').replace(/-(\d)(?!\d)/g, '-0$1');
}

export function accept(site: Site, node: Accept, scope: Scope, declarations: Declarations): void {
  if (node.rule === undefined || node.target === undefined) return;
  const targets = acceptTargets(site, node.target, scope, declarations);
  if (targets.length === 0) return;
  const acceptance: Acceptance = {
    rule: node.rule,
    fault: node.fault?.word?.$refText,
    targets,
    targetName: referenceText(node.target),
    because: node.reason.join(' '),
    until: node.until === undefined ? undefined : isoDate(node.until),
    origin: site.origins.of(node),
  };
  site.acceptances.push(acceptance);
}

/** One component; or the part of every use of an assembly; or every component of a type. */
function acceptTargets(site: Site, reference: Reference, scope: Scope, declarations: Declarations): ComponentId[] {
  const target = resolve(site, reference, scope);
  const id = componentOf(target);
  if (id !== undefined) return [id];
  const type = scope.type(reference.head?.$refText ?? '');
  if (type !== undefined) return ofType(site, type, reference, declarations);
  if (target === undefined) reportUnknown(site, reference, scope);
  else if (target.sort !== 'missing') {
    const message = `${referenceText(reference)} cannot be accepted for: name a component, a member or a type.`;
    site.report('component-needed', reference, message);
  }
  return [];
}

function ofType(site: Site, type: TypeDeclaration, reference: Reference, declarations: Declarations): ComponentId[] {
  if (type.kind !== 'assembly') {
    const parts = site.parts.filter((part) => part.declaration.type?.$refText === type.name);
    return reference.steps.length > 0 ? [] : parts.map((part) => part.id);
  }
  const [first, ...others] = reference.steps;
  if (first === undefined) return [];
  const name = first.parts.map((part) => part.$refText).join('-');
  const member = others[0]?.parts.map((part) => part.$refText).join('-');
  return (declarations.usesOf.get(type) ?? []).flatMap((use) => {
    const named = use.names.get(name);
    if (named?.sort !== 'part') return [];
    const id = member === undefined ? named.part.id : named.part.points.get(member)?.component;
    return id === undefined ? [] : [id];
  });
}
