/** Sets that unite, the blocks of a graph, and the causes that figures share. */
import { describe, expect, test } from 'vitest';
import { blocksOf } from '../../../packages/engine/src/build/decompose.ts';
import { hasSpread, Parameters, valueAt } from '../../../packages/engine/src/build/parameters.ts';
import { DisjointSets } from '../../../packages/engine/src/disjoint.ts';
import { ambient, datum } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { SiteBuilder } from '../../support/site.ts';

describe('disjoint sets', () => {
  test('members find one another once they are united, and are numbered in order of appearance', () => {
    const sets = new DisjointSets(6);
    expect(sets.numbered()).toEqual({ of: Int32Array.of(0, 1, 2, 3, 4, 5), count: 6 });
    expect(sets.unite(4, 1)).toBe(true);
    expect(sets.unite(1, 4)).toBe(false);
    expect(sets.unite(4, 5)).toBe(true);
    expect(sets.unite(1, 5)).toBe(false);
    expect(sets.unite(2, 0)).toBe(true);
    expect(sets.unite(3, 3)).toBe(false);
    expect(sets.numbered()).toEqual({ of: Int32Array.of(0, 1, 0, 2, 1, 1), count: 3 });
    expect(sets.find(5)).toBe(sets.find(1));
    expect(sets.find(2)).not.toBe(sets.find(1));
  });

  test('the smaller set joins the greater, so that ways stay short', () => {
    const sets = new DisjointSets(5);
    sets.unite(0, 1);
    sets.unite(0, 2);
    const greater = sets.find(0);
    sets.unite(3, 0);
    expect(sets.find(3)).toBe(greater);
    sets.unite(1, 4);
    expect(sets.find(4)).toBe(greater);
  });
});

/** Two edges lie in one block where a way through both passes no node twice: tried by taking every node away in turn. */
function sameBlock(nodes: number, from: readonly number[], to: readonly number[], e: number, f: number): boolean {
  const reachable = (without: number): DisjointSets => {
    const sets = new DisjointSets(nodes);
    from.forEach((a, k) => {
      if (a !== without && to[k] !== without) sets.unite(a, to[k]!);
    });
    return sets;
  };
  for (let cut = -1; cut < nodes; cut++) {
    const ends = (edge: number) => [from[edge]!, to[edge]!].filter((node) => node !== cut);
    const sets = reachable(cut);
    if (sets.find(ends(e)[0]!) !== sets.find(ends(f)[0]!)) return false;
  }
  return true;
}

describe('blocks', () => {
  test('edges from a node to itself, in parallel, on a loop and on a bridge', () => {
    // 0=1 twice, 1-2 a bridge, 2-3-4-2 a loop, 3 to itself, 5-6 apart.
    const from = [0, 1, 1, 2, 3, 4, 3, 5];
    const to = [1, 0, 2, 3, 4, 2, 3, 6];
    const { block, count } = blocksOf(7, from, to);
    expect(count).toBe(5);
    expect(block[0]).toBe(block[1]);
    expect(block[3]).toBe(block[4]);
    expect(block[4]).toBe(block[5]);
    expect(new Set([block[0], block[2], block[3], block[6], block[7]]).size).toBe(5);
    expect([...block].every((each) => each >= 0 && each < count)).toBe(true);
    expect(blocksOf(3, [], [])).toEqual({ block: new Int32Array(0), count: 0 });
  });

  test('are those that taking away one node after the other finds, in seeded graphs', () => {
    const random = generator(71);
    for (let set = 0; set < 40; set++) {
      const nodes = 3 + Math.floor(random() * 6);
      const edges = 2 + Math.floor(random() * 9);
      const ends = Array.from({ length: edges }, () => {
        const a = Math.floor(random() * nodes);
        return [a, (a + 1 + Math.floor(random() * (nodes - 1))) % nodes] as const;
      });
      const from = ends.map(([a]) => a);
      const to = ends.map(([, b]) => b);
      const { block } = blocksOf(nodes, from, to);
      for (let e = 0; e < edges; e++) {
        for (let f = 0; f < e; f++) {
          // Parallel edges are a loop of their own, whatever is taken away.
          const parallel = new Set([from[e], to[e], from[f], to[f]]).size === 2;
          expect(block[e] === block[f], `${JSON.stringify(ends)} ${e} ${f}`).toBe(
            parallel || sameBlock(nodes, from, to, e, f),
          );
        }
      }
    }
  });
});

describe('causes', () => {
  test('a value lies on straight lines from least to usual to most', () => {
    const spread = { least: 1, usual: 3, most: 9 };
    expect([-1, -0.5, 0, 0.5, 1].map((t) => valueAt(spread, t))).toEqual([1, 2, 3, 6, 9]);
    expect(hasSpread(spread)).toBe(true);
    expect(hasSpread({ least: 2, most: 2 })).toBe(false);
  });

  function site() {
    const s = new SiteBuilder({ ambient: ambient(10, 30) } as never)
      .place('hut', { ambient: ambient(5, 15) })
      .place('pit', { ambient: ambient(12, 40) })
      .place('yard');
    return s
      .resistor('R1', [90, 100, 110])
      .cable('W1', ['RD'], [1, 2, 4], 'hut', 'pit')
      .cable('W2', ['RD'], 1, 'hut', 'hut');
  }

  test('one datum is one cause, and a nominal one has no spread', () => {
    const s = site();
    const parameters = new Parameters(s.build());
    const one = parameters.of(s.id('R1'), 'ohms', datum([90, 100, 110]), 'ohm');
    expect(one).toMatchObject({ what: 'R1', unit: 'ohm', least: 90, usual: 100, most: 110 });
    expect(parameters.of(s.id('R1'), 'ohms', datum(1), 'ohm')).toBe(one);
    const other = parameters.of(s.id('R1'), 'volts', datum([1, 2]), 'V', 'R1 volts');
    expect(other).toMatchObject({ what: 'R1 volts', least: 1, most: 2 });
    expect(other.key).not.toBe(one.key);
    expect('assumption' in one).toBe(false);
    const assumed = parameters.of(s.id('W1'), 'x', { ...datum(1), assumption: 'taken' }, 'V');
    expect(assumed.assumption).toBe('taken');
    const nominal = new Parameters(s.build(), true).of(s.id('R1'), 'ohms', datum([90, 100, 110]), 'ohm');
    expect(nominal).toMatchObject({ least: 100, usual: 100, most: 100 });
  });

  test('what is computed elsewhere is one cause by its key', () => {
    const parameters = new Parameters(site().build());
    const one = parameters.computed('key', 'what', 'A', { least: 1, usual: 2, most: 3 });
    expect(one).toEqual({ key: 'key', what: 'what', unit: 'A', least: 1, usual: 2, most: 3 });
    expect(parameters.computed('key', 'other', 'V', { least: 0, usual: 0, most: 0 })).toBe(one);
    expect(parameters.computed('else', 'what', 'A', { least: 1, usual: 2, most: 3 })).not.toBe(one);
  });

  test('the ambient of a place is its own, else that of the site, else a room', () => {
    const s = site();
    const design = { ...s.build(), site: { ...s.build().site, ambient: ambient(10, 30) } };
    const parameters = new Parameters(design);
    const [hut, yard] = [0, 2];
    expect(parameters.ambient(hut)).toMatchObject({ what: 'hut ambient', unit: 'degC', least: 5, most: 15 });
    expect(parameters.ambient(hut)).toBe(parameters.ambient(hut));
    expect(parameters.ambient(yard)).toMatchObject({ what: 'ambient', least: 10, usual: 20, most: 30 });
    expect(parameters.ambient(undefined)).toBe(parameters.ambient(yard));
    const { ambient: _, ...bare } = design.site;
    expect(new Parameters({ ...design, site: bare }).ambient(yard)).toMatchObject({
      least: 20,
      most: 20,
      assumption: 'ambient not given, taken as 20 °C',
    });
  });

  test('a cable lies anywhere between the coldest and the warmest of what it joins', () => {
    const s = site();
    const parameters = new Parameters(s.build());
    expect(parameters.cableAmbient(s.id('W1'))).toMatchObject({
      what: 'W1 ambient',
      unit: 'degC',
      least: 5,
      usual: 20,
      most: 40,
    });
    expect(parameters.cableAmbient(s.id('W2'))).toMatchObject({ least: 5, usual: 10, most: 15 });
    expect('assumption' in parameters.cableAmbient(s.id('W2'))).toBe(false);
    const loose = s.build();
    const nowhere = loose.components.map((part) => (part.kind === 'cable' ? { ...part, ends: [] } : part));
    expect(new Parameters({ ...loose, components: nowhere } as never).cableAmbient(s.id('W1'))).toMatchObject({
      least: 20,
      most: 20,
      assumption: 'ambient not given, taken as 20 °C',
    });
  });

  test('the cores of a cable share where its ohms lie, shown as ohms', () => {
    const s = site();
    const parameters = new Parameters(s.build());
    const share = parameters.cableOhms(s.id('W1'), datum([1, 2, 4]));
    expect(share).toMatchObject({ what: 'W1 core', unit: 'ohm', least: -1, usual: 0, most: 1 });
    expect([-1, 0, 0.5, 1].map((t) => share.shown!(t))).toEqual([1, 2, 3, 4]);
    expect(parameters.cableOhms(s.id('W1'), datum(7))).toBe(share);
  });
});
