/** The frame of the preview's page, and what is taken from a page: nothing but what has the right shape. */
import { describe, expect, test } from 'vitest';
import { fromPage } from '../../../packages/vscode/src/preview/messages.ts';
import { freshNonce, previewPage } from '../../../packages/vscode/src/preview/page.ts';

describe('the page', () => {
  const page = previewPage({
    source: 'https://files.test',
    script: 'https://files.test/a.js',
    style: 'b.css',
    nonce: 'n0',
  });

  test('forbids everything but its own script and style sheet', () => {
    const policy = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? '';
    const rules = Object.fromEntries(policy.split('; ').map((rule) => rule.split(/ (.*)/).slice(0, 2)));
    expect(rules).toEqual({
      'default-src': "'none'",
      'script-src': "'nonce-n0'",
      'style-src': 'https://files.test',
      'base-uri': "'none'",
      'form-action': "'none'",
    });
  });

  test('has one script, with the nonce, and neither inline styles nor handlers', () => {
    expect(page.match(/<script[^>]*>/g)).toEqual(['<script nonce="n0" src="https://files.test/a.js">']);
    expect(page).not.toMatch(/<style|style=|\son\w+=/);
  });

  test('addresses cannot end the attribute that they stand in', () => {
    const odd = previewPage({ source: 'x', script: 'a"><script>b', style: 'c', nonce: 'n' });
    expect(odd).toContain('src="a&quot;>&lt;script>b"');
  });

  test('a nonce is made of letters and digits, another one each time', () => {
    const nonces = Array.from({ length: 50 }, () => freshNonce());
    for (const nonce of nonces) expect(nonce).toMatch(/^[0-9a-f]{32}$/);
    expect(new Set(nonces).size).toBe(50);
  });
});

describe('messages of the page', () => {
  const place = { uri: 'file:///a', start: { line: 0, character: 1 }, end: { line: 0, character: 2 } };

  test.each([
    [{ type: 'ready' }],
    [{ type: 'ask', id: 3, what: 'drawing', params: { case: 'rest' } }],
    [{ type: 'reveal', place }],
  ])('%j is taken', (message) => {
    expect(fromPage(message)).toEqual(message);
  });

  test.each([
    [undefined],
    ['ready'],
    [[]],
    [{ type: 'else' }],
    [{ type: 'ask', id: 3, what: 'shutdown', params: {} }],
    [{ type: 'ask', id: '3', what: 'drawing', params: {} }],
    [{ type: 'ask', id: 3, what: 'drawing', params: [] }],
    [{ type: 'reveal', place: { ...place, start: { line: -1, character: 0 } } }],
    [{ type: 'reveal', place: { ...place, end: { line: 0.5, character: 0 } } }],
    [{ type: 'reveal', place: { uri: 3, start: place.start, end: place.end } }],
  ])('%j is not', (message) => {
    expect(fromPage(message)).toBeUndefined();
  });
});
