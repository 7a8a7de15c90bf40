/** From what an assembly says to what the row of a use says instead: `RE.rating: 2k32 +-1%`. */
import { isAssemblyBody, isComponent, isProperty, isValue, referenceText, type Value } from '@couplet/language';
import type { AstNode } from 'langium';

/**
 * What a row says so that a stretch of text in the assembly (offsets) has `put` in its place for this use; undefined where
 * the stretch is no value of a component in the assembly.
 */
export function overriding(
  node: AstNode,
  stretch: { readonly start: number; readonly end: number },
  put: string,
  path: string,
): string | undefined {
  let at: AstNode | undefined = node;
  while (at !== undefined && !(isValue(at) && (isProperty(at.$container) || isComponent(at.$container))))
    at = at.$container;
  const holder = at?.$container;
  if (isProperty(holder)) {
    const component = holder.$container?.$container;
    const owner = holder.owner === undefined ? '' : `${referenceText(holder.owner)}.`;
    return said(component, `${owner}${holder.name}`, holder.values, stretch, put, path);
  }
  return isComponent(holder) ? said(holder, 'rating', holder.rating, stretch, put, path) : undefined;
}

function said(
  component: AstNode | undefined,
  property: string,
  values: readonly Value[],
  { start, end }: { readonly start: number; readonly end: number },
  put: string,
  path: string,
): string | undefined {
  if (!isComponent(component) || !isAssemblyBody(component.$container)) return undefined;
  const [name, ...others] = component.names;
  if (name === undefined || others.length > 0) return undefined;
  const texts: string[] = [];
  for (const { $cstNode } of values) {
    if ($cstNode === undefined) return undefined;
    const { end: last, offset, text } = $cstNode;
    const isHere = start >= offset && end <= last;
    texts.push(isHere ? text.slice(0, start - offset) + put + text.slice(end - offset) : text);
  }
  return `${path}${name.name}.${property}: ${texts.join(', ')}`;
}
