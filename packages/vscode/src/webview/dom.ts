/** Elements made from data. Texts become text nodes, never markup: names and descriptions come from a file. */

export interface Made {
  readonly class?: string;
  readonly text?: string;
  readonly attributes?: Readonly<Record<string, string>>;
  readonly on?: Readonly<Record<string, (event: Event) => void>>;
}

export function make<T extends keyof HTMLElementTagNameMap>(
  tag: T,
  made: Made = {},
  ...children: readonly (Node | undefined)[]
): HTMLElementTagNameMap[T] {
  const element = document.createElement(tag);
  if (made.class !== undefined) element.className = made.class;
  if (made.text !== undefined) element.textContent = made.text;
  for (const [name, value] of Object.entries(made.attributes ?? {})) element.setAttribute(name, value);
  for (const [name, hear] of Object.entries(made.on ?? {})) element.addEventListener(name, hear);
  for (const child of children) if (child !== undefined) element.append(child);
  return element;
}

/** An SVG text as an element of this document; undefined where it is not well formed. */
export function svgElement(text: string): SVGSVGElement | undefined {
  const { documentElement } = new DOMParser().parseFromString(text, 'image/svg+xml');
  if (documentElement.localName !== 'svg') return undefined;
  return document.importNode(documentElement, true) as unknown as SVGSVGElement;
}
