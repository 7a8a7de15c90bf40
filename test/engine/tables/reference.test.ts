/** The copied reference values are complete and agree with themselves, so that tests may lean on them. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import formulas from '../../reference/worked-formulas.json' with { type: 'json' };
import networks from '../../reference/worked-networks.json' with { type: 'json' };

const STATUSES =
  /^(confirmed-on-page|partly-confirmed|from-memory|derived-here)|confirmed-on-page|from-memory|derived-here/;
const FOLDER = new URL('../../reference/', import.meta.url);

interface Answer {
  readonly volts?: readonly string[];
  readonly amps?: string;
  readonly is: number;
}

/** Node volts of a net by modified nodal analysis with plain elimination: a second opinion for the data only. */
function solve(net: readonly string[]) {
  const parts = net.map((line) => {
    const [name = '', plus = '', minus = '', value = ''] = line.split(' ');
    return { name, plus, minus, value: Number(value) };
  });
  const nodes = [...new Set(parts.flatMap((part) => [part.plus, part.minus]))].filter((node) => node !== '0');
  const sources = parts.filter((part) => part.name.startsWith('V'));
  const size = nodes.length + sources.length;
  const rows = Array.from({ length: size }, () => new Array<number>(size + 1).fill(0));
  const add = (i: number, j: number, value: number) => {
    const row = rows[i];
    if (row !== undefined && j >= 0) row[j] = (row[j] ?? 0) + value;
  };
  for (const part of parts) {
    const [p, m] = [nodes.indexOf(part.plus), nodes.indexOf(part.minus)];
    if (part.name.startsWith('V')) {
      const k = nodes.length + sources.indexOf(part);
      for (const [node, sign] of [
        [p, 1],
        [m, -1],
      ] as const) {
        add(node, k, sign);
        if (node >= 0) add(k, node, sign);
      }
      add(k, size, part.value);
    } else {
      for (const [node, other] of [
        [p, m],
        [m, p],
      ] as const) {
        add(node, node, 1 / part.value);
        if (node >= 0) add(node, other, -1 / part.value);
      }
    }
  }
  for (let k = 0; k < size; k++) {
    const pivot = rows
      .slice(k)
      .reduce((best, row) => (Math.abs(row[k] as number) > Math.abs(best[k] as number) ? row : best));
    const at = rows.indexOf(pivot);
    [rows[k], rows[at]] = [pivot, rows[k] as number[]];
    for (const row of rows) {
      if (row === pivot) continue;
      const factor = (row[k] as number) / (pivot[k] as number);
      for (let j = k; j <= size; j++) row[j] = (row[j] as number) - factor * (pivot[j] as number);
    }
  }
  const unknown = rows.map((row, i) => (row[size] as number) / (row[i] as number));
  const volts = (node: string) => (node === '0' ? 0 : (unknown[nodes.indexOf(node)] as number));
  const amps = (name: string) => {
    const part = parts.find((each) => each.name === name);
    if (part === undefined) throw new Error(`no part ${name}`);
    if (name.startsWith('V')) return unknown[nodes.length + sources.indexOf(part)] as number;
    return (volts(part.plus) - volts(part.minus)) / part.value;
  };
  return { volts, amps };
}

describe('worked networks have the answers that are printed for them', () => {
  test.each(networks.examples)('$id', ({ net, answers, relTol }) => {
    const { volts, amps } = solve(net);
    expect(answers.length).toBeGreaterThan(0);
    for (const answer of answers as readonly Answer[]) {
      const found =
        answer.amps === undefined ? volts(answer.volts?.[0] ?? '') - volts(answer.volts?.[1] ?? '') : amps(answer.amps);
      expect(Math.abs(found - answer.is), JSON.stringify(answer)).toBeLessThanOrEqual(
        relTol * Math.abs(answer.is) + 1e-12,
      );
    }
  });

  test('none is missing and none stands twice', () => {
    const ids = [...networks.examples, ...formulas.examples].map((example) => example.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(networks.examples).toHaveLength(15);
    expect(formulas.examples).toHaveLength(18);
  });
});

test('known misprints keep the right figure', () => {
  const by = (id: string) => networks.examples.find((example) => example.id === id);
  expect(by('liec-spice-first')?.net).toContain('R3 2 0 150');
  expect(by('openstax-opposing')?.net).toContain('R3 1 2 20');
  expect(by('openstax-kirchhoff-2loop')?.where).toContain('R14=R1+R4=1+2');
  const misprinted = [...networks.examples, ...formulas.examples].filter((example) => 'erratum' in example);
  expect(misprinted.map((example) => example.id).sort()).toEqual([
    'babcock-coil-temp',
    'liec-spice-first',
    'openstax-battery-10ohm',
    'openstax-kirchhoff-2loop',
    'openstax-opposing',
    'peukert-rated',
  ]);
});

test.each(readdirSync(FOLDER).filter((name) => name.endsWith('.json')))(
  '%s: every example says its source and status',
  (name) => {
    const data = JSON.parse(readFileSync(new URL(name, FOLDER), 'utf8'));
    const text = JSON.stringify(data);
    expect(text).toMatch(/"status":/);
    const walk = (value: unknown): void => {
      if (value === null || typeof value !== 'object') return;
      for (const [key, inner] of Object.entries(value)) {
        if (key === 'status') expect(inner, name).toMatch(STATUSES);
        else walk(inner);
      }
    };
    walk(data);
    for (const example of Array.isArray(data.examples) ? data.examples : []) {
      expect(example.status, example.id).toBeTypeOf('string');
      if (example.status !== 'derived-here') expect(example.source, example.id).toBeTypeOf('string');
    }
  },
);
