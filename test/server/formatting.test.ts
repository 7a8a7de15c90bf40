/** Layout as an editor asks for it: the whole file, a selection, and what has just been typed. */
import { format } from '@couplet/language';
import { expect, test } from 'vitest';
import type { FormattingOptions, Position, TextEdit } from 'vscode-languageserver';
import { DocumentFormattingRequest } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { Client, marked } from './client.ts';
import { Desk, FOLDER } from './desk.ts';

const OPTIONS: FormattingOptions = { tabSize: 8, insertSpaces: false };
const NAME = 'site.couplet';
const ROUGH = `// a note
wire   A--B
resistor   RE=2k2±1%



load P1 = 6W @ 12 V { style: resistive  works: 10 V..15 V }
wire C --
spare   A , B
`;

async function deskWith(text: string) {
  const desk = await Desk.with({ [NAME]: text });
  const document = desk.document(NAME);
  const textDocument = { uri: FOLDER + NAME };
  const formatter = desk.services.couplet.lsp.Formatter;
  const applied = (edits: TextEdit[] | undefined) => TextDocument.applyEdits(document.textDocument, edits ?? []);
  return {
    whole: async () => applied(await formatter?.formatDocument(document, { textDocument, options: OPTIONS })),
    range: async (start: Position, end: Position) =>
      applied(
        await formatter?.formatDocumentRange(document, { textDocument, range: { start, end }, options: OPTIONS }),
      ),
    typed: async (ch: string, position: Position) =>
      applied(await formatter?.formatDocumentOnType(document, { textDocument, ch, position, options: OPTIONS })),
  };
}

async function typed(textWithCursor: string): Promise<string> {
  const { position, text } = marked(textWithCursor);
  const before = textWithCursor.slice(0, textWithCursor.indexOf('<|>'));
  return (await deskWith(text)).typed(before.endsWith('}') ? '}' : '\n', position);
}

test.each([
  ['line feeds', ROUGH],
  ['carriage returns too', ROUGH.replaceAll('\n', '\r\n')],
])('the whole file, with %s', async (_, text) => {
  const desk = await deskWith(text);
  expect(await desk.whole()).toBe(format(text).text);
  expect(format(text).text).not.toBe(text);
});

test('a file that is laid out gets no edit', async () => {
  const { text } = format(ROUGH);
  const desk = await Desk.with({ [NAME]: text });
  const params = { textDocument: { uri: FOLDER + NAME }, options: OPTIONS };
  expect(await desk.services.couplet.lsp.Formatter?.formatDocument(desk.document(NAME), params)).toEqual([]);
});

test('edits leave alone what is laid out already', async () => {
  const desk = await Desk.with({ [NAME]: 'wire A -- B\nresistor R1  = 1k\nwire C -- D\n' });
  const params = { textDocument: { uri: FOLDER + NAME }, options: OPTIONS };
  expect(await desk.services.couplet.lsp.Formatter?.formatDocument(desk.document(NAME), params)).toEqual([
    { range: { start: { line: 1, character: 12 }, end: { line: 1, character: 13 } }, newText: '' },
  ]);
});

test('a selection: the statements that it touches', async () => {
  const desk = await deskWith(ROUGH);
  expect(await desk.range({ line: 2, character: 4 }, { line: 2, character: 9 })).toBe(
    ROUGH.replace('resistor   RE=2k2±1%', 'resistor RE = 2k2 +-1%'),
  );
});

test('a selection over blank lines', async () => {
  const desk = await deskWith(ROUGH);
  expect(await desk.range({ line: 2, character: 4 }, { line: 6, character: 2 })).toBe(
    ROUGH.replace('resistor   RE=2k2±1%\n\n', 'resistor RE = 2k2 +-1%')
      .replace('{ style: resistive  works: 10 V..15 V }', '{\n  style: resistive\n  works: 10 V .. 15 V\n}')
      .replace('6W', '6 W'),
  );
});

test.each([
  [
    'a line end behind a statement',
    'wire X--Y\nwire   A--B\n<|>\nwire   C--D\n',
    'wire X--Y\nwire A -- B\n\nwire   C--D\n',
  ],
  ['a brace that ends a statement', 'load P1 {works: 9 V}<|>\nwire   C--D\n', 'load P1 { works: 9 V }\nwire   C--D\n'],
  ['a line end inside a body', 'load P1 {\n  style:   resistive\n<|>\n}\n', 'load P1 {\n  style:   resistive\n\n}\n'],
  ['a line end in a broken statement', 'wire   A --\n<|>', 'wire   A --\n'],
  ['a brace inside a statement', 'type T : unit {\n  common  G {}<|>\n\n\n}', 'type T : unit {\n  common  G {}\n\n\n}'],
])('while typing: %s', async (_, text, expected) => expect(await typed(text)).toBe(expected));

test('over the wire', async () => {
  const client = await Client.start();
  try {
    const { capabilities } = await client.initialized;
    expect(capabilities).toMatchObject({
      documentFormattingProvider: true,
      documentRangeFormattingProvider: true,
      documentOnTypeFormattingProvider: { firstTriggerCharacter: '}', moreTriggerCharacter: ['\n'] },
    });
    const uri = 'file:///wire/site.couplet';
    await client.open(uri, ROUGH);
    const edits = await client.connection.sendRequest(DocumentFormattingRequest.type, {
      textDocument: { uri },
      options: OPTIONS,
    });
    const document = TextDocument.create(uri, 'couplet', 1, ROUGH);
    expect(TextDocument.applyEdits(document, edits as TextEdit[])).toBe(format(ROUGH).text);
  } finally {
    await client.stop();
  }
});
