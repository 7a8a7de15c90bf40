/** What a preview is told of time, bands and batteries, over the wire. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { BandChart, RuntimeCurve, TimeLine } from '@couplet/project';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Answer, PreviewParams } from '../../../packages/server/src/preview/protocol.ts';
import { Client, root, SOURCE } from '../client.ts';
import { askUntil } from './asking.ts';

const folder = pathToFileURL(join(root, 'examples')).href;
const mill = `${folder}/tidewater-mill/site.couplet`;
const pump = `${folder}/pumping-station/site.couplet`;

let client: Client;

beforeAll(async () => {
  client = await Client.start(SOURCE, folder);
  for (const uri of [mill, pump]) await client.open(uri, readFileSync(new URL(uri), 'utf8'));
}, 120_000);

afterAll(async () => {
  expect(client.errors).toEqual([]);
  await client.stop();
});

async function ask<T>(what: string, params: PreviewParams): Promise<Answer<T>> {
  return askUntil(client, what, params);
}

async function shown<T>(what: string, params: PreviewParams) {
  const answer = await ask<T>(what, params);
  if (answer.sort !== 'shown') throw new Error(answer.because);
  return answer;
}

describe('the time line', () => {
  test('is that of the first case in which something is turned, unless another one is asked for', async () => {
    const { choices, data } = await shown<TimeLine>('timeLine', { uri: mill });
    expect(choices.case).toBe('high-water');
    expect(data).toMatchObject({ site: 'Tidewater Mill', case: 'high-water' });
    const beacon = data.tracks.find(({ name }) => name === 'P1');
    expect(beacon?.segments.map(({ states }) => states[0])).toEqual(['off', 'on', 'off']);
    expect(beacon?.segments.at(-1)?.from.usual).toBeCloseTo(90, 1);
    const other = await shown<TimeLine>('timeLine', { uri: mill, case: 'supply-lost' });
    expect(other.data.case).toBe('supply-lost');
  });

  test('at rest nothing changes, and that is said, with the cases that can be chosen', async () => {
    const answer = await ask<TimeLine>('timeLine', { uri: mill, case: 'rest' });
    expect(answer).toMatchObject({
      sort: 'nothing',
      because: expect.stringMatching(/^Nothing changes here in the case rest/),
    });
    expect(answer.choices?.cases.map(({ name }) => name)).toContain('high-water');
  });
});

describe('the bands', () => {
  test('hold the readings of every case; faults come when they are asked for', async () => {
    const { data } = await shown<BandChart[]>('bands', { uri: mill });
    expect(data.map(({ zone }) => zone)).toEqual(['panel.Z4']);
    const [chart] = data;
    expect(chart?.bands.map(({ label }) => label)).toEqual(['short', 'normal', 'alarm', 'open']);
    expect(chart?.readings[0]).toMatchObject({ title: 'rest', states: ['normal'] });
    expect(chart?.readings[0]?.usual).toBeCloseTo(2227, 0);
    expect(chart?.faults).toEqual([]);
    const withFaults = await shown<BandChart[]>('bands', { uri: mill, faults: true });
    const blind = withFaults.data[0]?.faults.filter(({ answer }) => answer === 'blind');
    expect(blind?.map(({ title }) => title)).toContain('level.Q1 stuck on');
  }, 120_000);

  test('a coupling without zones says so', async () => {
    expect(await ask<BandChart[]>('bands', { uri: pump })).toMatchObject({
      sort: 'nothing',
      because: expect.stringMatching(/^No zone of this coupling/),
    });
  });
});

describe('the runtime', () => {
  test('is a curve for each battery, with what it shall carry', async () => {
    const { data } = await shown<RuntimeCurve[]>('runtime', { uri: pump });
    expect(data.map(({ battery }) => battery)).toEqual(['B1']);
    expect(data[0]?.points.length).toBeGreaterThan(3);
    expect(data[0]?.marks.map(({ title, wanted }) => [title, wanted])).toEqual([
      ['rest', 24 * 3600],
      ['high-water', 2 * 3600],
    ]);
  });

  test('a site without an autonomy says what is missing', async () => {
    expect(await ask<RuntimeCurve[]>('runtime', { uri: mill })).toMatchObject({
      sort: 'nothing',
      because: expect.stringMatching(/`autonomy`/),
    });
  });
});
