/** The drawing as text: well formed, the same every time, and saying what stands how without any colour. */
import { join } from 'node:path';
import { type Drawing, layoutOf, PALETTE, styleOf, svgOf } from '@couplet/documents';
import { couplingsOf, drawingOf } from '@couplet/project';
import { describe, expect, test } from 'vitest';
import { junctionsOf } from '../../../packages/documents/src/drawing/junctions.ts';
import { LENGTH, SYMBOLS } from '../../../packages/documents/src/drawing/symbols.ts';
import { escaped, shortened, widthOf, wrapped } from '../../../packages/documents/src/drawing/text.ts';
import { exampleSite, MANY_KINDS, SITES, siteOf } from '../../project/drawing/sites.ts';
import { type Element, elementsIn, parseXml, textsIn } from './xml.ts';

async function svg(drawing: Drawing): Promise<string> {
  return svgOf(drawing, await layoutOf(drawing.shape));
}

function refs(root: Element): string[] {
  return [...elementsIn(root)].flatMap(({ attributes }) => attributes['data-ref'] ?? []);
}

function part(root: Element, ref: string): Element {
  const found = [...elementsIn(root)].find(({ attributes }) => attributes['data-ref'] === ref);
  if (found === undefined) throw new Error(`there is no ${ref} among ${refs(root).join(', ')}`);
  return found;
}

describe.each(SITES)('%s', { timeout: 240_000 }, (path) => {
  const site = exampleSite(path);

  test('every drawing at every moment is well formed, and shows each node, wire and place once', async () => {
    const { analysis } = await site;
    for (const { id } of couplingsOf(await site)) {
      for (const each of analysis.cases) {
        for (const moment of each.moments.keys()) {
          const drawing = drawingOf(await site, { coupling: id, case: each.name, moment })!;
          const root = parseXml(await svg(drawing));
          const { frames, nodes, wires } = drawing.shape;
          const shown = refs(root);
          expect(new Set(shown).size).toBe(shown.length);
          expect(shown).toEqual(
            expect.arrayContaining([
              ...nodes.map((node) => `node ${node.id}`),
              ...wires.map((wire) => `wire ${wire.id}`),
              ...frames.map((frame) => `frame ${frame.id}`),
            ]),
          );
          for (const element of elementsIn(root)) {
            if (element.attributes['data-ref'] !== undefined) {
              expect(element.attributes.tabindex).toBe('0');
              expect(element.attributes['aria-label']).not.toBe('');
            }
            expect(JSON.stringify(element.attributes)).not.toMatch(/NaN|undefined|Infinity|onclick|style/);
          }
        }
      }
    }
  });

  test('every name, and every value that is given, can be read', async () => {
    for (const { id } of couplingsOf(await site)) {
      const drawing = drawingOf(await site, { coupling: id })!;
      const texts = textsIn(parseXml(await svg(drawing)));
      for (const { name, symbol, terminals } of drawing.shape.nodes) {
        if (symbol !== 'earth') expect(texts).toContain(name);
        if (symbol === 'unit') expect(texts).toEqual(expect.arrayContaining(terminals.map(({ label }) => label)));
      }
      const values = drawing.shape.nodes.flatMap((node) => node.values.slice(0, 1));
      for (const value of values) expect(texts.join(' ')).toContain(value);
    }
  });
});

test('a picture with title and description', async () => {
  const root = parseXml(await svg(drawingOf(await exampleSite('tidewater-mill/site.couplet'))!));
  expect(root.attributes).toMatchObject({ role: 'img', 'aria-labelledby': 'couplet-title couplet-desc' });
  expect(root.children.slice(0, 2).map(({ name, text }) => [name, text])).toEqual([
    ['title', 'Tidewater Mill: level.Q1, level.Q2 to panel.Z4, P1 (rest)'],
    ['desc', 'Circuit diagram of level, panel, K1, RE, RA, P1, W1, with 11 wires.'],
  ]);
});

const SMALL = `site "Bench"
place shed "Shed"
supply G1 = 12 V in shed { limit: 1 A  earthed: no }
switch S1 in shed { contacts: make }
load P1 = 120 ohm in shed "Lamp" { style: resistive  works: 9 V .. 15 V }
wire G1.plus -- S1.13-14 -- P1 -- G1.minus
case pressed { turn S1 closed  expect P1 on }`;

test('a small drawing, whole', async () => {
  const drawing = drawingOf(await siteOf(SMALL), { case: 'pressed' })!;
  const bare = svgOf(drawing, await layoutOf(drawing.shape), { style: false });
  expect(bare).not.toContain('<style');
  await expect(bare).toMatchFileSnapshot(join(import.meta.dirname, 'small.svg'));
});

test('an open contact differs from a closed one by its blade and by its word', async () => {
  const site = await siteOf(SMALL);
  const shown = async (name: string) => {
    const drawing = drawingOf(site, { case: name, moment: 0 })!;
    const node = part(parseXml(await svg(drawing)), 'node S1/1');
    const blades = [...elementsIn(node)].filter(({ attributes }) => attributes.class?.startsWith('blade'));
    return { blade: blades.map(({ attributes }) => attributes.d), texts: textsIn(node) };
  };
  const [open, closed] = [await shown('rest'), await shown('pressed')];
  expect(open.texts).toContain('open');
  expect(closed.texts).toEqual(expect.arrayContaining(['closed', '99.9 mA']));
  expect(open.blade[0]).not.toBe(closed.blade[0]);
});

test('of a changeover contact the throw that is closed is drawn and named', async () => {
  const site = await exampleSite('tidewater-mill/site.couplet');
  const texts = async (name: string) =>
    textsIn(part(parseXml(await svg(drawingOf(site, { case: name })!)), 'node K1/1'));
  expect(await texts('rest')).toContain('11–14 closed');
  expect(await texts('high-water')).toContain('11–12 closed');
});

test('the number of a core and the current in it are told apart', async () => {
  const site = await siteOf(`site "Bench"
place a "A"
place b "B"
supply G1 = 12 V in a { limit: 1 A  earthed: no }
load P1 = 120 ohm in b { style: resistive }
cable W1 { cores: 7, 8, 9  size: 1 mm2  length: 1 m  from: a  to: b }
wire G1.plus -- W1.7 -- P1 -- W1.8 -- G1.minus`);
  const root = parseXml(await svg(drawingOf(site)!));
  expect(textsIn(part(root, 'core W1.7'))).toEqual(['', '7', expect.stringMatching(/^[\d.]+ mA$/)]);
  expect(textsIn(part(root, 'core W1.9'))).toEqual(['', '9', 'spare']);
});

test('what is missing is said where the figure would stand', async () => {
  const site = await siteOf(`site "Bench"
supply G1 = 12 V { limit: 1 A  earthed: no }
load P1
wire G1.plus -- P1 -- G1.minus`);
  const words = textsIn(part(parseXml(await svg(drawingOf(site)!)), 'node P1')).join(' ');
  expect(words).toContain('not evaluated: needs P1');
});

test('names that are hostile to XML stay words', async () => {
  const drawing = drawingOf(await siteOf(SMALL))!;
  const evil = `</text><script>alert("1 & 2")</script>'\u0000\ud800 ]]>`;
  const hostile: Drawing = {
    ...drawing,
    site: evil,
    shape: {
      ...drawing.shape,
      title: evil,
      frames: drawing.shape.frames.map((frame) => ({ ...frame, title: evil })),
      nodes: drawing.shape.nodes.map((node) => ({ ...node, name: evil, description: evil, values: [evil] })),
      wires: drawing.shape.wires.map((wire) => ({ ...wire, bond: evil })),
    },
  };
  const text = await svg(hostile);
  expect(text).not.toContain('<script');
  expect(text).not.toContain('\u0000');
  const root = parseXml(text);
  expect([...elementsIn(root)].map(({ name }) => name)).not.toContain('script');
  expect(part(root, 'node P1').attributes['aria-label']).toContain('alert("1 & 2")');
});

test('the same drawing is the same text', async () => {
  const site = await siteOf(MANY_KINDS);
  for (const { id } of couplingsOf(site)) {
    const drawing = drawingOf(site, { coupling: id })!;
    const again = drawingOf(await siteOf(MANY_KINDS), { coupling: id })!;
    expect(await svg(again)).toBe(await svg(drawing));
  }
});

test('colours of the default theme are told apart from their grounds', () => {
  // Relative luminance and contrast ratio: WCAG 2.2, from memory.
  const light = (hex: string) => {
    const [r, g, b] = [1, 3, 5].map((at) => {
      const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const ratio = (one: string, other: string) => {
    const [low, high] = [light(one), light(other)].sort((a, b) => a - b);
    return (high! + 0.05) / (low! + 0.05);
  };
  for (const ground of [PALETTE.paper, PALETTE.ground]) {
    for (const text of ['ink', 'muted', 'figure', 'lack', 'good', 'warn'] as const) {
      expect(ratio(PALETTE[text], ground), `${text} on ${ground}`).toBeGreaterThanOrEqual(4.5);
    }
    for (const line of ['frame', 'focus'] as const) expect(ratio(PALETTE[line], ground)).toBeGreaterThanOrEqual(3);
  }
});

test('a page sets colours of its own, by its properties or by a theme', async () => {
  expect(styleOf()).toContain(`var(--couplet-ink,${PALETTE.ink})`);
  expect(styleOf({ colours: { ink: 'navy' } })).toContain('var(--couplet-ink,navy)');
});

test('every symbol keeps to its grid', () => {
  for (const [name, { half, strokes }] of Object.entries(SYMBOLS)) {
    for (const { d } of strokes) {
      expect(d).toMatch(/^M/);
      const [x] = d
        .slice(1)
        .split(/[\sA-Za-z]/)
        .map(Number);
      expect(Math.abs(x!), `${name} ${d}`).toBeLessThanOrEqual(LENGTH);
    }
    expect(half, name).toBeLessThanOrEqual(20);
  }
});

test('a dot stands where wires part, and not where they only cross or end', () => {
  const wires = [
    { id: 'a', from: 'X', to: 'A', net: 0 },
    { id: 'b', from: 'X', to: 'B', net: 0 },
    { id: 'c', from: 'C', to: 'D', net: 1 },
  ];
  const points = (...pairs: readonly (readonly [number, number])[]) => ({ points: pairs.map(([x, y]) => ({ x, y })) });
  const layout = {
    width: 0,
    height: 0,
    frames: new Map(),
    nodes: new Map(),
    wires: new Map([
      ['a', points([0, 0], [50, 0])],
      ['b', points([0, 0], [20, 0], [20, 30], [50, 30])],
      ['c', points([30, -10], [30, 40])],
    ]),
  };
  const shape = { title: '', frames: [], nodes: [], links: [], wires };
  expect(junctionsOf(shape, layout)).toEqual([{ x: 20, y: 0 }]);
});

test('text is broken, shortened and measured', () => {
  expect(wrapped('High water, held in while all is well', 150, 2)).toEqual([
    'High water, held in',
    'while all is well',
  ]);
  const [first, second, ...others] = wrapped('one two three four five six seven eight nine ten', 60, 2);
  expect([first, others.length]).toEqual(['one two', 0]);
  expect(second).toMatch(/…$/);
  expect(widthOf(shortened('a very long name that has no room', 80))).toBeLessThanOrEqual(80);
  expect(widthOf('漢字')).toBeGreaterThan(widthOf('ab'));
  expect(wrapped('', 100, 2)).toEqual([]);
  expect(escaped('<&>"\'')).toBe('&lt;&amp;&gt;&quot;&#39;');
});

test('a text that is still being written is drawn as far as it goes', { timeout: 240_000 }, async () => {
  const lines = MANY_KINDS.split('\n');
  let drawn = 0;
  for (let count = 12; count < lines.length; count += 5) {
    const half = lines[count]!.slice(0, lines[count]!.length / 2);
    const site = await siteOf([...lines.slice(0, count), half].join('\n'));
    for (const { id } of couplingsOf(site)) {
      const drawing = drawingOf(site, { coupling: id })!;
      const shown = refs(parseXml(await svg(drawing)));
      expect(shown).toEqual(expect.arrayContaining(drawing.shape.wires.map((wire) => `wire ${wire.id}`)));
      drawn++;
    }
  }
  expect(drawn).toBeGreaterThan(5);
});
