/** Files that are no readable text: one finding each, at the first character that is wrong. */
import { decode, MOST_BYTES } from '@couplet/project';
import { expect, test } from 'vitest';

const FILE = 'file:///site/a.couplet';

function bytes(...parts: readonly (string | readonly number[])[]): Uint8Array {
  return Uint8Array.from(
    parts.flatMap((part) => (typeof part === 'string' ? [...new TextEncoder().encode(part)] : [...part])),
  );
}

function read(content: Uint8Array) {
  return decode(FILE, { sort: 'bytes', bytes: content });
}

test('a text in UTF-8 is read as it is, its byte-order mark dropped', () => {
  expect(read(bytes('site "Mühle 🛈"\n'))).toEqual({ text: 'site "Mühle 🛈"\n' });
  expect(read(bytes([0xef, 0xbb, 0xbf], 'site "A"'))).toEqual({ text: 'site "A"' });
});

test('a file that is there and cannot be read says why', () => {
  const { text, finding } = decode(FILE, { sort: 'unreadable', reason: 'it is a folder' });
  expect(text).toBeUndefined();
  expect(finding).toMatchObject({
    code: 'file-unreadable',
    severity: 'error',
    message: 'This file cannot be read: it is a folder.',
  });
});

test.each([
  ['a stray continuation byte', [0x80]],
  ['Latin-1', [0xe4, 0x20]],
  ['a sequence cut short by the end of the file', [0xe2, 0x82]],
  ['an overlong form', [0xc0, 0xaf]],
  ['an overlong three-byte form', [0xe0, 0x80, 0xaf]],
  ['half of a surrogate pair', [0xed, 0xa0, 0x80]],
  ['a number beyond the last character', [0xf4, 0x90, 0x80, 0x80]],
  ['a byte that never occurs', [0xff]],
])('%s is not UTF-8, and the finding stands at it', (_name, wrong) => {
  const { text, finding } = read(bytes('site "A"\nplace ü', wrong));
  expect(text).toBeUndefined();
  expect(finding).toMatchObject({ code: 'file-not-utf8', severity: 'error' });
  expect(finding?.place.start).toEqual({ line: 1, character: 7 });
});

test('the well-formedness check agrees with the decoder of the platform on random bytes', () => {
  let state = 20260101;
  const next = (below: number) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
  const interesting = [
    0x41, 0x7f, 0x80, 0x8f, 0x90, 0x9f, 0xa0, 0xbf, 0xc1, 0xc2, 0xdf, 0xe0, 0xe1, 0xed, 0xef, 0xf0, 0xf1, 0xf4, 0xf5,
  ];
  let refused = 0;
  for (let round = 0; round < 20_000; round++) {
    const content = Uint8Array.from({ length: 1 + next(6) }, () => interesting[next(interesting.length)] as number);
    let valid = true;
    try {
      new TextDecoder('utf-8', { fatal: true }).decode(content);
    } catch {
      valid = false;
      refused += 1;
    }
    expect(
      read(content).finding?.code !== 'file-not-utf8',
      [...content].map((byte) => byte.toString(16)).join(' '),
    ).toBe(valid);
  }
  expect(refused).toBeGreaterThan(1000);
});

test('UTF-16 is told from other bytes', () => {
  expect(read(bytes([0xff, 0xfe, 0x73, 0x00])).finding?.message).toContain('UTF-16');
});

test('a NUL is found where it stands', () => {
  const { text, finding } = read(bytes('site "A"\r\nab', [0], 'c'));
  expect(text).toBeUndefined();
  expect(finding).toMatchObject({ code: 'file-holds-nul', place: { start: { line: 1, character: 2 } } });
});

test('an empty file is a warning, and still a file', () => {
  for (const text of ['', ' \n\t\n']) {
    expect(read(bytes(text))).toMatchObject({ text, finding: { code: 'file-empty', severity: 'warning' } });
  }
});

test('the largest file that is read has two million bytes', () => {
  expect(read(bytes('/'.repeat(MOST_BYTES))).finding).toBeUndefined();
  const { text, finding } = read(bytes('/'.repeat(MOST_BYTES + 1)));
  expect(text).toBeUndefined();
  expect(finding).toMatchObject({ code: 'file-too-large', message: expect.stringContaining('larger than 2 MB') });
});

test('what is missing or unreadable says so', () => {
  expect(decode(FILE, { sort: 'missing' }).finding).toMatchObject({ code: 'file-missing', severity: 'error' });
  expect(decode(FILE, { sort: 'unreadable', reason: 'no permission' }).finding?.message).toContain('no permission');
});
