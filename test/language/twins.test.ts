/** A site of four hundred uses of an assembly is the same site as its twin that is written out. */
import type { Design } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { asWritten, twins, withoutOrigins } from '../support/twins.ts';
import { lowerText } from './lower/site.ts';
import { Workspace } from './support.ts';

const SLOW = 240_000;

describe('four hundred assemblies', () => {
  const texts = twins(400);

  test(
    'come to the same design as their twin, apart from where it is written',
    () => {
      const [one, other] = [texts.assemblies, texts.written].map((text) => lowerText(text));
      expect(one?.findings).toEqual([]);
      expect(other?.findings).toEqual([]);
      const design = one?.design as Design;
      expect(design.components.length).toBeGreaterThan(400 * 7);
      expect(withoutOrigins(design)).toEqual(withoutOrigins(other?.design as Design));
    },
    SLOW,
  );

  test(
    'lead from everything that a use says both to its row and to the assembly',
    () => {
      const { design, place, withinUses } = lowerText(texts.assemblies);
      const rows = texts.assemblies.split('\n');
      const parts = design.components.filter(({ name }) => name.startsWith('B'));
      expect(parts.length).toBeGreaterThan(400 * 7);
      for (const part of parts) {
        const use = part.name.slice(0, 4);
        expect(rows[place(part.origin)?.start.line ?? -1]).toContain(`assembly ${use} :`);
        const within = withinUses(part.origin);
        expect(within?.uses).toMatchObject([{ name: use, assembly: 'DoorLoop', uses: 400 }]);
        expect(rows[within?.place.start.line ?? -1]).toMatch(/^ {2}(switch|resistor|cable) /);
      }
    },
    SLOW,
  );

  test(
    'are linked without an error, and a part of the assembly is found wherever it is named',
    async () => {
      const marked = `${texts.assemblies.replace('resistor RE', 'resistor ⟦RE⟧')}accept value-not-preferred on B007.RE because "stock"\n`;
      const workspace = await Workspace.of(marked);
      expect(workspace.document().references.filter((each) => each.error !== undefined)).toEqual([]);
      const declared = marked.split('\n').findIndex((line) => line.includes('⟦RE⟧')) + 1;
      const lines = marked.split('\n').flatMap((line, n) => (/\bRE\b/.test(line.replace(/[⟦⟧]/g, '')) ? [n + 1] : []));
      expect(lines).toContain(declared);
      expect(workspace.referencesAt()).toEqual(lines.map((line) => `${line}:RE`).sort());
    },
    SLOW,
  );
});

test('a name within a use is the name of the twin', () => {
  expect(asWritten('B007.W1.GN.B007, p0.Z1')).toBe('B007_W1.GN.B007, p0.Z1');
});
