/** How a step after a dot is read: as one name with hyphens, or as the two terminals of a pole. */
import type { ReferenceInfo } from 'langium';
import type { Named, Step } from '../generated/ast.ts';
import type { Lookup } from './lookup.ts';

export type StepReading =
  | { readonly sort: 'name'; readonly name: string; readonly node: Named }
  | {
      readonly sort: 'pole';
      readonly first: { readonly name: string; readonly node: Named | undefined };
      readonly second: { readonly name: string; readonly node: Named | undefined };
      /** How many of the parts make the first name. */
      readonly cut: number;
    }
  | { readonly sort: 'nothing'; readonly name: string };

/** Reads a step among the members of what stands before it. A name of its own goes before a pole. */
export function readStep(step: Step, members: Lookup): StepReading {
  const texts = step.parts.map((part) => part.$refText);
  const name = texts.join('-');
  const node = members.get(name);
  if (node !== undefined) return { sort: 'name', name, node };
  if (texts.length < 2) return { sort: 'nothing', name };
  for (let cut = 1; cut < texts.length; cut++) {
    const first = members.get(texts.slice(0, cut).join('-'));
    const second = members.get(texts.slice(cut).join('-'));
    if (first !== undefined && second !== undefined) return pole(texts, cut, first, second);
  }
  const half = texts.length === 2 ? 1 : Math.floor(texts.length / 2);
  return pole(texts, half, members.get(texts.slice(0, half).join('-')), members.get(texts.slice(half).join('-')));
}

/** The node that one part of a step leads to. */
export function stepPart(reading: StepReading, step: Step, part: ReferenceInfo['reference']): Named | undefined {
  if (reading.sort === 'name') return reading.node;
  if (reading.sort === 'nothing') return undefined;
  const index = (step.parts as readonly unknown[]).indexOf(part);
  return (index < reading.cut ? reading.first : reading.second).node;
}

function pole(texts: readonly string[], cut: number, first: Named | undefined, second: Named | undefined): StepReading {
  return {
    sort: 'pole',
    first: { name: texts.slice(0, cut).join('-'), node: first },
    second: { name: texts.slice(cut).join('-'), node: second },
    cut,
  };
}
