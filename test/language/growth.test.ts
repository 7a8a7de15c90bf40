/** Linking grows with the file: so many look-ups a reference, whatever its size, and no table gone through. */
import { Names } from '@couplet/language';
import { expect, test, vi } from 'vitest';
import { Workspace } from './support.ts';

function siteOf(count: number): string {
  const lines = ['type P : unit { common ZC { earthed: yes }  zone Z1 .. Z900 { return: ZC } }', 'unit panel : P'];
  for (let i = 0; i < count; i++) {
    lines.push(`relay K${i} { contacts: changeover }`, `resistor R${i} = 2k2`, `cable W${i} { cores: GN, YE }`);
    lines.push(`wire panel.Z${(i % 900) + 1} -- W${i}.GN -- K${i}.11-14 -- R${i} -- W${i}.YE -- panel.ZC`);
  }
  return lines.join('\n');
}

async function lookUps(count: number): Promise<{ first: number; listed: number; references: number }> {
  const first = vi.spyOn(Names.prototype, 'first');
  const listed = vi.spyOn(Names.prototype, 'entries');
  const workspace = await Workspace.of(siteOf(count));
  expect(workspace.findings()).toEqual([]);
  const counts = {
    first: first.mock.calls.length,
    listed: listed.mock.calls.length,
    references: workspace.document().references.length,
  };
  vi.restoreAllMocks();
  return counts;
}

test('two thousand parts take four times the look-ups of five hundred', async () => {
  const small = await lookUps(167);
  const large = await lookUps(668);
  expect(large.references / small.references).toBeGreaterThan(3.9);
  expect(large.first / small.first).toBeLessThan(1.02 * (large.references / small.references));
  expect(large.listed / small.listed).toBeLessThan(1.02 * (large.references / small.references));
});
