/** Findings of several sites in one list: equal ones once, different ones with the name of their site. */
import { mergeFindings, type ProjectFinding, type RootFindings } from '@couplet/project';
import { expect, test } from 'vitest';

function finding(uri: string, line: number, message: string, more: Partial<ProjectFinding> = {}): ProjectFinding {
  const at = { line, character: 0 };
  return {
    code: 'output-overloaded',
    severity: 'error',
    message,
    place: { uri, start: at, end: at },
    related: [],
    figures: [],
    roots: [],
    ...more,
  };
}

function site(root: string, findings: readonly ProjectFinding[], title = root.toUpperCase()): RootFindings {
  return { root, title, files: [root, 'types'], findings };
}

test('a finding that stands in every site of its file is listed once and names none', () => {
  const merged = mergeFindings([site('b', [finding('types', 3, 'same')]), site('a', [finding('types', 3, 'same')])]);
  expect(merged).toHaveLength(1);
  expect(merged[0]).toMatchObject({ roots: ['a', 'b'], site: undefined });
});

test('a finding that stands in some sites of its file names them', () => {
  const merged = mergeFindings([
    site('a', [finding('types', 3, '24 mA')]),
    site('b', [finding('types', 3, '31 mA')]),
    site('c', [finding('types', 3, '31 mA')]),
  ]);
  expect(merged.map(({ message, site: name }) => [message, name])).toEqual([
    ['24 mA', 'A'],
    ['31 mA', 'B, C'],
  ]);
});

test('a file of one site needs no name, whatever other sites there are', () => {
  const merged = mergeFindings([site('a', [finding('a', 0, 'here')]), site('b', [])]);
  expect(merged[0]?.site).toBeUndefined();
});

test('sites with one title are told apart by their files', () => {
  const merged = mergeFindings([
    site('file:///w/north/site.couplet', [finding('types', 0, 'x')], 'Mill'),
    site('file:///w/south/site.couplet', [], 'Mill'),
  ]);
  expect(merged[0]?.site).toBe('Mill (north/site.couplet)');
});

test('an accepted finding and the same finding not accepted are two', () => {
  const accepted = { because: 'agreed', place: finding('a', 9, '').place };
  const merged = mergeFindings([
    site('a', [finding('types', 3, 'same', { accepted })]),
    site('b', [finding('types', 3, 'same')]),
  ]);
  expect(merged.map((each) => [each.accepted?.because, each.site])).toEqual([
    ['agreed', 'A'],
    [undefined, 'B'],
  ]);
});

test('the order is file, line, column, code, message, whatever order they came in', () => {
  const all = [
    finding('b', 0, 'm'),
    finding('a', 2, 'm'),
    finding('a', 10, 'm'),
    finding('a', 2, 'm', { place: { uri: 'a', start: { line: 2, character: 5 }, end: { line: 2, character: 6 } } }),
    finding('a', 2, 'm', { code: 'back-feed' }),
    finding('a', 2, 'l'),
  ];
  const listed = (findings: readonly ProjectFinding[]) =>
    mergeFindings([{ root: 'a', title: 'A', files: ['a', 'b'], findings }]).map(
      ({ place, code, message }) => `${place.uri}:${place.start.line}:${place.start.character} ${code} ${message}`,
    );
  expect(listed(all)).toEqual([
    'a:2:0 back-feed m',
    'a:2:0 output-overloaded l',
    'a:2:0 output-overloaded m',
    'a:2:5 output-overloaded m',
    'a:10:0 output-overloaded m',
    'b:0:0 output-overloaded m',
  ]);
  expect(listed([...all].reverse())).toEqual(listed(all));
});
