/** The data of drawings are described twice, once where they are made and once where they are drawn: word for word. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BandChart, Drawing, RuntimeCurve, TimeLine } from '@couplet/documents';
import type * as made from '@couplet/project';
import { expect, expectTypeOf, test } from 'vitest';

const types = (name: string) => {
  const path = join(import.meta.dirname, `../../../packages/${name}/src/drawing/contract.ts`);
  const text = readFileSync(path, 'utf8');
  return text.replaceAll(/\/\*\*[\s\S]*?\*\//g, '').trim();
};

test('both say the same', () => {
  expect(types('documents')).toBe(types('project'));
  expect(types('project')).toContain('export interface Drawing {');
});

test('what is made can be drawn', () => {
  expectTypeOf<made.Drawing>().toEqualTypeOf<Drawing>();
  expectTypeOf<made.TimeLine>().toEqualTypeOf<TimeLine>();
  expectTypeOf<made.BandChart>().toEqualTypeOf<BandChart>();
  expectTypeOf<made.RuntimeCurve>().toEqualTypeOf<RuntimeCurve>();
});
