/** What a preview is told, over the wire: the drawing of a coupling, its choices, and the sentence where there is none. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Drawing } from '@couplet/project';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Answer, PreviewParams } from '../../../packages/server/src/preview/protocol.ts';
import { Client, root, SOURCE } from '../client.ts';
import { askUntil } from './asking.ts';

const folder = pathToFileURL(join(root, 'examples')).href;
const mill = `${folder}/tidewater-mill/site.couplet`;
const text = readFileSync(new URL(mill), 'utf8');

let client: Client;

beforeAll(async () => {
  client = await Client.start(SOURCE, folder);
  await client.open(mill, text);
}, 120_000);

afterAll(async () => {
  expect(client.errors).toEqual([]);
  await client.stop();
});

function drawing(params: Partial<PreviewParams> = {}): Promise<Answer<Drawing>> {
  return askUntil(client, 'drawing', { uri: mill, ...params });
}

async function shown(params: Partial<PreviewParams> = {}) {
  const answer = await drawing(params);
  if (answer.sort !== 'shown') throw new Error(answer.because);
  return answer;
}

/** Line and character of the first `words` of the example. */
function at(words: string) {
  const before = text.slice(0, text.indexOf(words)).split('\n');
  return { line: before.length - 1, character: before.at(-1)!.length };
}

describe('the drawing of the worked example', () => {
  test('shows rest first, with everything that can be chosen', async () => {
    const { choices, data, unread } = await shown();
    expect(unread).toBeUndefined();
    expect(choices.sites).toEqual([{ root: mill, title: 'Tidewater Mill' }]);
    expect(choices.files).toHaveLength(4);
    expect(choices.cases.map(({ name }) => name).slice(0, 3)).toEqual(['rest', 'high-water', 'supply-lost']);
    expect(choices).toMatchObject({ root: mill, case: 'rest', moment: 0, coupling: choices.couplings[0]?.id });
    expect(data).toMatchObject({ site: 'Tidewater Mill', couplings: choices.couplings, coupling: choices.coupling });
  });

  test('its parts are where they are written', async () => {
    const { data } = await shown();
    const load = data.shape.nodes.find(({ id }) => id === 'P1');
    expect(load?.source).toMatchObject({ uri: mill, start: { line: at('load P1').line } });
    const wired = data.shape.wires.flatMap(({ source }) => (source === undefined ? [] : [source.start.line]));
    expect(wired).toContain(at('wire panel.Z4').line);
  });

  test('figures are those of the case and moment that are asked for', async () => {
    const volts = async (params: Partial<PreviewParams>) => {
      const { data } = await shown(params);
      return data.figures.nodes.P1?.figures.find(({ quantity }) => quantity === 'volts')?.usual;
    };
    expect(await volts({ case: 'rest' })).toBeLessThan(1);
    expect(await volts({ case: 'high-water' })).toBeGreaterThan(10.5);
    expect(await volts({ case: 'high-water', moment: 1 })).toBeLessThan(1);
  });

  test('what is not there any more is chosen anew', async () => {
    const { choices } = await shown({ coupling: 'gone', case: 'gone', moment: 99, root: 'file:///gone' });
    expect(choices).toMatchObject({ root: mill, case: 'rest', moment: 0, coupling: choices.couplings[0]?.id });
  });

  test('a used file is shown with a site that uses it; which one can be chosen', async () => {
    const uri = `${folder}/types/panel-two-resistor.couplet`;
    const { choices } = await shown({ uri });
    const sites = choices.sites.map(({ root }) => root);
    expect(sites).toEqual(sites.toSorted());
    expect(choices).toMatchObject({ root: sites[0], files: expect.arrayContaining([uri]) });
    const root = `${folder}/cold-store/site.couplet`;
    expect(sites).toContain(root);
    const other = await shown({ uri, root });
    expect(other.choices.root).toBe(root);
    expect(other.data.site).toBe('Harbour cold store');
  });

  test('a drawing is plain data', async () => {
    const { data } = await shown({ case: 'high-water' });
    expect(JSON.parse(JSON.stringify(data))).toEqual(data);
  });
});

describe('several couplings', () => {
  const uri = `${folder}/two-couplings.couplet`;
  const two = `site "Two"
type Ctl : unit {
  rail V12 { volts: 11.4 V .. 12.8 V .. 14.1 V  limit: 1.6 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 200 mA  drop: 0.5 V }
}
place hut
unit one : Ctl in hut
unit two : Ctl in hut
load P1 = 1 W @ 12 V in hut { style: resistive }
load P2 = 1 W @ 12 V in hut { style: resistive }
wire one.V12 -- P1 -- one.Q1
wire two.V12 -- P2 -- two.Q1
`;

  test('each is a drawing; the place in the text decides before the one that is asked for', async () => {
    await client.open(uri, two);
    const { choices } = await askUntil<Drawing>(client, 'drawing', { uri }, ({ sort }) => sort === 'shown');
    if (choices === undefined) throw new Error('no choices');
    expect(choices.couplings).toHaveLength(2);
    const [first, second] = choices.couplings.map(({ id }) => id);
    const nodes = async (params: Partial<PreviewParams>) => {
      const answer = await shown({ uri, ...params });
      return { coupling: answer.choices.coupling, names: answer.data.shape.nodes.map(({ name }) => name) };
    };
    expect(await nodes({ coupling: second })).toMatchObject({
      coupling: second,
      names: expect.arrayContaining(['P2']),
    });
    const onWire = { line: 12, character: 20 };
    expect(await nodes({ coupling: first, position: onWire })).toMatchObject({ coupling: second });
    const onLoad = { line: 9, character: 6 };
    expect(await nodes({ coupling: second, position: onLoad })).toMatchObject({ coupling: first });
    const nowhere = { line: 0, character: 0 };
    expect(await nodes({ coupling: second, position: nowhere })).toMatchObject({ coupling: second });
  });
});

describe('where there is nothing to draw', () => {
  test('a file of no site, a site without wires, and a request without a file say so', async () => {
    const alone = `${folder}/nowhere-used.couplet`;
    await client.open(alone, 'type Alone : relay { coil: 12 V, 720 ohm  contacts: make }\n');
    await askUntil(client, 'drawing', { uri: alone }, ({ choices }) => choices?.files.includes(alone) ?? false);
    expect(await drawing({ uri: alone })).toMatchObject({ sort: 'nothing', because: expect.stringMatching(/no site/) });
    const bare = `${folder}/bare.couplet`;
    await client.open(bare, 'site "Bare"\nplace hut\n');
    await askUntil(client, 'drawing', { uri: bare }, ({ choices }) => choices?.root === bare);
    expect(await drawing({ uri: bare })).toMatchObject({ sort: 'nothing', because: expect.stringMatching(/wire/) });
    for (const params of [null, {}, { uri: 7 }]) {
      expect(await client.connection.sendRequest('couplet/drawing', params)).toMatchObject({ sort: 'nothing' });
    }
  });

  test('text that cannot be read is told of, with its place', async () => {
    await client.change(mill, `${text}\nwire level.V12 -- -- P1\n`, 2);
    const broken = await askUntil<Drawing>(client, 'drawing', { uri: mill }, ({ unread }) => unread !== undefined);
    expect(broken.unread).toMatchObject({ count: 1, place: { uri: mill, start: { line: text.split('\n').length } } });
    await client.change(mill, text, 3);
    const mended = await askUntil<Drawing>(client, 'drawing', { uri: mill }, ({ unread }) => unread === undefined);
    expect(mended.sort).toBe('shown');
  });
});
