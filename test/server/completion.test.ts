/** Completion over the language's services: the right words and names in their place, and what they put into the text. */
import { BUNDLED_PATHS } from '@couplet/language';
import { CATALOGUE } from '@couplet/rules';
import { beforeEach, describe, expect, test } from 'vitest';
import type { CoupletCompletion } from '../../packages/server/src/completion/provider.ts';
import { Desk, TYPES } from './desk.ts';

const SITE = `site "Mill"
use "types.couplet"
place pit "Wheel pit" { ambient: -5 degC .. 40 degC }
unit panel : Panel
relay K1 : SmallRelay in pit "High water"
cable W1 { cores: GN, YE  size: 0.22 mm2  length: 140 m  from: pit  to: pit }
`;

let desk: Desk;
beforeEach(async () => {
  desk = await Desk.with({ 'types.couplet': TYPES });
});

const labels = async (text: string) => (await desk.complete(SITE + text)).map(({ label }) => label);

describe('statements and bodies', () => {
  test('statements and kinds at the beginning of a line', async () => {
    const list = await labels('<|>');
    expect(list).toEqual(expect.arrayContaining(['site', 'wire', 'case', 'relay', 'resistor', 'accept']));
  });

  test('a typed beginning narrows the list', async () => {
    expect(await labels('rel<|>')).toEqual(['relay']);
  });

  test('properties of the kind that are not given yet', async () => {
    const list = await labels('relay K2 {\n  coil: 12 V, 720 ohm\n  <|>\n}\n');
    expect(list).toEqual(expect.arrayContaining(['operates', 'suppressor', 'contacts']));
    expect(list).not.toContain('coil');
    expect(list).not.toContain('works-as');
  });

  test('members and properties of a unit', async () => {
    expect(await labels('type Other : unit {\n  <|>\n}\n')).toEqual(expect.arrayContaining(['rail', 'output', 'zone']));
  });

  test('words that a property takes', async () => {
    expect(await labels('relay K2 { suppressor: <|> }')).toEqual(expect.arrayContaining(['diode', 'zener', 'none']));
  });

  test('a property brings its colon', async () => {
    expect(await desk.take('suppressor', 'relay K2 { su<|> }')).toBe('relay K2 { suppressor:  }');
  });

  test('names of the same unit where a property wants one', async () => {
    const list = await labels('type Other : unit {\n  common G { earthed: no }\n  rail V { return: <|> }\n}\n');
    expect(list).toContain('G');
  });

  test('rules in limits and in accept', async () => {
    expect(await labels('accept output-o<|>')).toContain('output-overloaded');
  });

  test('nothing in notes and descriptions', async () => {
    expect(await labels('// wire <|>')).toEqual([]);
    expect(await labels('relay K2 "wire <|>')).toEqual([]);
  });
});

describe('names', () => {
  test('components in a chain, and no places or types', async () => {
    const list = await labels('wire <|>');
    expect(list).toEqual(expect.arrayContaining(['panel', 'K1', 'W1']));
    expect(list).not.toContain('pit');
    expect(list).not.toContain('Panel');
  });

  test('members of a unit declared in another file', async () => {
    const list = await labels('wire panel.<|>');
    expect(list).toEqual(expect.arrayContaining(['AUX', 'ZC', 'Z1', 'Z4']));
    expect(list).not.toContain('double');
  });

  test('terminals of a relay', async () => {
    expect(await labels('wire K1.<|>')).toEqual(expect.arrayContaining(['A1', 'A2', '11', '12', '14']));
  });

  test('cores of a cable', async () => {
    expect(await labels('wire panel.Z1 -- W1.<|>')).toEqual(expect.arrayContaining(['GN', 'YE']));
  });

  test('types of the kind', async () => {
    expect(await labels('relay K2 : <|>')).toEqual(['SmallRelay']);
  });

  test('places', async () => {
    expect(await labels('relay K2 : SmallRelay in <|>')).toContain('pit');
  });

  test('files that can be used', async () => {
    expect(await labels('use "<|>')).toEqual(['types.couplet', ...BUNDLED_PATHS]);
    expect(await labels('use "library/rel<|>')).toEqual(['library/relays.couplet']);
  });

  test('states of what is turned and expected', async () => {
    expect(await labels('case x {\n  expect panel.Z1 <|>')).toEqual(expect.arrayContaining(['alarm', 'normal']));
    expect(await labels('case x {\n  expect K1 <|>')).toEqual(expect.arrayContaining(['operated', 'released']));
  });

  test('settings that a zone can be programmed to', async () => {
    expect(await labels('program panel.Z1 <|>')).toContain('scheme');
    expect(await labels('program panel.Z1 scheme = <|>')).toContain('double');
  });
});

describe('values', () => {
  test('units after a number, those of the property', async () => {
    const list = await labels('load P1 = 6<|>');
    expect(list).toEqual(expect.arrayContaining(['W', 'mA', 'ohm']));
    expect(list).not.toContain('degC');
  });

  test('a unit is put in behind its blank', async () => {
    expect(await desk.take('W', 'load P1 = 6<|>')).toBe('load P1 = 6 W');
  });

  test('cross-sections of cables', async () => {
    const list = await labels('cable W2 { size: <|> }');
    expect(list).toEqual(expect.arrayContaining(['0.22 mm2', '0.5 mm2', '1.5 mm2']));
  });

  test('resistor values: E12 before E24 before E96 where nothing asks', async () => {
    const list = await labels('resistor R1 = <|>');
    expect(list.slice(0, 3)).toEqual(['100R', '120R', '150R']);
    expect(list.indexOf('110R')).toBeGreaterThan(list.indexOf('820k'));
  });

  test('a typed beginning of a resistor value', async () => {
    expect(await labels('resistor R1 = 4k<|>')).toEqual(expect.arrayContaining(['4k7', '4k3', 'kohm']));
    expect(await desk.take('4k7', 'resistor R1 = 4<|>')).toBe('resistor R1 = 4k7');
  });
});

describe('documentation', () => {
  async function told(label: string, text: string): Promise<{ light: boolean; words: string | undefined }> {
    const item = (await desk.complete(SITE + text)).find((each) => each.label === label);
    if (item === undefined) throw new Error(`no item ${label}`);
    const provider = desk.services.couplet.lsp.CompletionProvider as CoupletCompletion;
    const { documentation } = provider.resolve(item);
    const words = typeof documentation === 'object' ? documentation.value : documentation;
    return { light: item.documentation === undefined, words };
  }

  test('of a property: its sentence and the origin of its default, when it is asked for', async () => {
    const { light, words } = await told('suppressor', 'relay K2 { su<|> }');
    expect(light).toBe(true);
    expect(words).toMatch(/\w+/);
    expect((await told('rise', 'relay K2 { ri<|> }')).words).toContain('common practice');
  });

  test('of a name: its description and its declaration', async () => {
    expect((await told('K1', 'wire <|>')).words).toBe(
      'High water\n\n```couplet\nrelay K1 : SmallRelay in pit "High water"\n```',
    );
  });

  test('of a rule: what it finds', async () => {
    expect((await told('output-overloaded', 'accept output-o<|>')).words).toBe(CATALOGUE['output-overloaded'].summary);
  });

  test('of an item of a list that is long gone: none, and no failure', async () => {
    const item = (await desk.complete(`${SITE}wire <|>`))[0];
    for (let i = 0; i < 5; i += 1) await desk.complete(`${SITE}wire <|>`);
    const provider = desk.services.couplet.lsp.CompletionProvider as CoupletCompletion;
    expect(item === undefined ? undefined : provider.resolve(item)).toEqual(item);
    expect(provider.resolve({ label: 'x', data: 'nonsense' })).toEqual({ label: 'x', data: 'nonsense' });
  });
});
