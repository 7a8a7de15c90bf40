/**
 * What a reference says once it is linked: the chain of nodes behind its names. For lowering, hover and drawings.
 * Names that lead nowhere have no node; the linker has told them.
 */
import type { Named, Reference } from '../generated/ast.ts';
import type { Resolver } from './resolver.ts';
import { readStep } from './steps.ts';

export interface Link {
  /** As the text has it, without quotes: one of several counted members, one of several poles' terminals. */
  readonly name: string;
  readonly node: Named | undefined;
}

export type ResolvedStep =
  /** A member, a terminal, a core, an end of a core, a case, a setting. */
  | ({ readonly sort: 'name'; readonly doubled: readonly Link[] } & Link)
  /** Two terminals that a chain passes through, first to second. */
  | { readonly sort: 'pole'; readonly first: Link; readonly second: Link; readonly doubled: readonly Link[] };

export interface ResolvedReference {
  readonly head: Link;
  readonly steps: readonly ResolvedStep[];
  /** Whether every name leads somewhere. */
  readonly complete: boolean;
}

/** Reads a linked reference. */
export function resolveReference(reference: Reference, resolver: Resolver): ResolvedReference {
  const head = { name: reference.head?.$refText ?? '', node: reference.head?.ref };
  const steps = reference.steps.map((step): ResolvedStep => {
    const members = resolver.beforeStep(step);
    const doubled = step.doubled.map((each) => ({ name: each.$refText, node: each.ref }));
    if (members === undefined) {
      return { sort: 'name', name: step.parts.map((part) => part.$refText).join('-'), node: undefined, doubled };
    }
    const reading = readStep(step, members);
    if (reading.sort === 'pole') return { sort: 'pole', first: reading.first, second: reading.second, doubled };
    return { sort: 'name', name: reading.name, node: reading.sort === 'name' ? reading.node : undefined, doubled };
  });
  return { head, steps, complete: head.node !== undefined && steps.every(isComplete) };
}

function isComplete(step: ResolvedStep): boolean {
  const named = step.sort === 'pole' ? [step.first, step.second] : [step];
  return [...named, ...step.doubled].every((link) => link.node !== undefined);
}
