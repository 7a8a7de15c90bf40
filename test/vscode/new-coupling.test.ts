/** 'New coupling': every text that can come of the answers is checked. */
import { createCoupletCoreServices } from '@couplet/language';
import { checkSites } from '@couplet/project';
import { URI } from 'langium';
import { describe, expect, test } from 'vitest';
import { type Answers, couplingText, fileName, nextQuestion } from '../../packages/vscode/src/new-coupling-text.ts';
import { FOLDER, MemoryReader, uri } from '../project/memory.ts';

/** Every way through the questions. */
function* every(answers: Answers): Generator<Answers> {
  const next = nextQuestion(answers);
  if (next === undefined) {
    yield answers;
    return;
  }
  expect(next.choices.length, `${next.asks} after ${JSON.stringify(answers)}`).toBeGreaterThan(0);
  for (const { value } of next.choices) yield* every({ ...answers, [next.asks]: value });
}

async function graveFindings(text: string): Promise<string[]> {
  const workspace = { reader: new MemoryReader({ 'new.couplet': text }), folder: FOLDER };
  const grave: string[] = [];
  for await (const { findings } of checkSites(workspace, [uri('new.couplet')], { today: '2026-11-01' })) {
    for (const { code, message, severity } of findings) {
      if (severity !== 'information') grave.push(`${code}: ${message}`);
    }
  }
  return grave;
}

const outputs = nextQuestion({})?.choices ?? [];

test('there is an output of every sort to begin with', () => {
  expect(outputs.map(({ label }) => label).join('\n')).toMatch(/Open collector.*Sourcing output.*Volt-free contact/s);
});

describe.each(outputs.map(({ label, value }) => [label, value]))('%s', (_, output) => {
  const all = [...every({ output })];
  const drives = [...new Set(all.map((each) => each.drives ?? ''))];

  test.each(drives)(
    'driving %s: neither an error nor a warning, whatever is answered',
    async (driven) => {
      const own = all.filter((each) => each.drives === driven);
      expect(own.length).toBeGreaterThan(3);
      for (const answers of own) {
        expect(await graveFindings(couplingText(answers)), JSON.stringify(answers)).toEqual([]);
      }
    },
    600_000,
  );
});

describe('the text', () => {
  const relay: Answers = {
    output: 'sink05',
    drives: 'RelaySignal',
    cable: 'Cable4x022',
    length: '50',
    zone: 'Zones4k7 two',
  };
  const { shared } = createCoupletCoreServices();

  test('says what was answered', () => {
    const text = couplingText({ ...relay, title: 'Boat house' });
    expect(text).toContain('site "Boat house" {');
    expect(text).toContain('unit ctl : OutputsSinking05 in plant');
    expect(text).toContain('cable W1 : Cable4x022 {\n  length: 50 m');
    expect(text).toContain('resistor RA = 4k7 +-1%');
    expect(text).toContain('program panel.Z1 scheme = two');
    const load = couplingText({
      output: 'contact24',
      drives: 'LockFailSafe',
      draws: '100',
      cable: 'Cable2x100',
      length: '50',
    });
    expect(load).toContain('load P1 : LockFailSafe24 = 100 mA @ 24 V in field "Lock"');
    expect(load).toContain('wire P1.minus -- D1 -- P1.plus');
    expect(load).not.toContain('panel');
  });

  test.each(['"', 'a\\', 'x" { blind: 9 } //', 'line\nbreak', '', '   '])(
    'no title breaks out of its quotes: %j',
    async (title) => {
      const text = couplingText({ ...relay, title });
      const document = shared.workspace.LangiumDocumentFactory.fromString(text, uriOf());
      expect(document.parseResult.parserErrors.map(({ message }) => message)).toEqual([]);
      expect(await graveFindings(text)).toEqual([]);
    },
  );

  test('nothing is written before everything is answered', () => {
    expect(() => couplingText({ output: 'sink05', drives: 'RelaySignal' })).toThrow('Not everything is answered yet.');
  });
});

test('files are named for the site', () => {
  expect(fileName('Boat house', 1)).toBe('boat-house.couplet');
  expect(fileName('Boat house', 3)).toBe('boat-house-3.couplet');
  expect(fileName('Süd / Tor 2', 1)).toBe('su-d-tor-2.couplet');
  expect(fileName('../..', 1)).toBe('coupling.couplet');
});

let made = 0;

function uriOf() {
  made += 1;
  return URI.parse(`file:///new-${made}.couplet`);
}
