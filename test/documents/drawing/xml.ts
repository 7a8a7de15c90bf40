/** A reader of XML that is strict enough to tell what is not well formed. */

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Element[];
  text: string;
}

const TAG = /<(\/?)([A-Za-z][\w-]*)((?:\s+[A-Za-z][\w:-]*="[^"<]*")*)\s*(\/?)>/y;

/** Throws where the text is not well formed. */
export function parseXml(xml: string): Element {
  const root: Element = { name: '', attributes: {}, children: [], text: '' };
  const open = [root];
  let at = 0;
  while (at < xml.length) {
    const next = xml.indexOf('<', at);
    const text = xml.slice(at, next < 0 ? xml.length : next);
    open.at(-1)!.text += decoded(text);
    if (next < 0) break;
    TAG.lastIndex = next;
    const match = TAG.exec(xml);
    if (match === null) throw new Error(`no tag at ${xml.slice(next, next + 60)}`);
    const [whole, closes, name, attributes, empty] = match;
    at = next + whole.length;
    if (closes === '/') {
      const last = open.pop()!;
      if (last.name !== name) throw new Error(`</${name}> ends <${last.name}>`);
      continue;
    }
    const element: Element = { name: name!, attributes: attributesOf(attributes!), children: [], text: '' };
    open.at(-1)!.children.push(element);
    if (empty !== '/') open.push(element);
  }
  if (open.length !== 1 || root.children.length !== 1) throw new Error('elements are left open');
  return root.children[0]!;
}

export function* elementsIn(element: Element): Generator<Element> {
  yield element;
  for (const child of element.children) yield* elementsIn(child);
}

/** Every word that is shown. */
export function textsIn(element: Element): string[] {
  return [...elementsIn(element)].filter(({ name }) => name === 'text' || name === 'tspan').map(({ text }) => text);
}

function attributesOf(text: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const [, name, value] of text.matchAll(/([A-Za-z][\w:-]*)="([^"]*)"/g)) {
    if (found[name!] !== undefined) throw new Error(`${name} is given twice`);
    found[name!] = decoded(value!);
  }
  return found;
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function decoded(text: string): string {
  if (text.includes(']]>') || /&(?!(?:amp|lt|gt|quot|#39);)/.test(text)) throw new Error(`a bare sign in ${text}`);
  return text.replaceAll(/&(\w+|#39);/g, (_, name: string) => ENTITIES[name]!);
}
