/** The code of a finding leads to the rule's page, where the client has said where the pages are and that it can follow. */
import { PassThrough } from 'node:stream';
import { CheckedSites, startServer } from '@couplet/server';
import { EmptyFileSystem } from 'langium';
import { afterEach, expect, test } from 'vitest';
import {
  createConnection,
  createProtocolConnection,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

const URI = 'file:///site/site.couplet';
const TEXT = `site "A" { ambient: 20 degC }
supply G1 { volts: 11 V .. 12 V .. 13 V  limit: 1 A }
load P1 = 100 mA @ 12 V { style: resistive  works: 9 V .. 15 V }
wire G1.plus -- P1 -- G1.minus
wire G1.plus -- P7
`;

let client: ProtocolConnection | undefined;

afterEach(() => client?.dispose());

/** Codes and where they lead, of a site with one finding of a rule and one of the language. */
async function codesFor(capable: boolean, initializationOptions?: object): Promise<unknown> {
  const [up, down] = [new PassThrough(), new PassThrough()];
  const connection = createConnection(new StreamMessageReader(up), new StreamMessageWriter(down));
  startServer({
    connection,
    ...EmptyFileSystem,
    makeSites: (services) => new CheckedSites(services),
    version: 'test',
  });
  const own = createProtocolConnection(new StreamMessageReader(down), new StreamMessageWriter(up));
  client = own;
  const published = new Promise<PublishDiagnosticsParams>((resolve) => {
    own.onNotification(PublishDiagnosticsNotification.type, (params) => {
      if (params.diagnostics.some((each) => each.code === 'earthing-undeclared')) resolve(params);
    });
  });
  own.listen();
  await own.sendRequest(InitializeRequest.type, {
    processId: null,
    rootUri: null,
    capabilities: { textDocument: { publishDiagnostics: { codeDescriptionSupport: capable } } },
    workspaceFolders: null,
    ...(initializationOptions === undefined ? {} : { initializationOptions }),
  });
  await own.sendNotification(InitializedNotification.type, {});
  const textDocument = { uri: URI, languageId: 'couplet', version: 1, text: TEXT };
  await own.sendNotification(DidOpenTextDocumentNotification.type, { textDocument });
  const { diagnostics } = await published;
  return Object.fromEntries(diagnostics.map((each) => [each.code, each.codeDescription?.href]));
}

test.each(['file:///pages', 'https://example.com/docs/rules/'])('below %s', async (rulePages) => {
  const codes = await codesFor(true, { rulePages });
  expect(codes).toMatchObject({ 'earthing-undeclared': `${rulePages.replace(/\/$/, '')}/earthing-undeclared.md` });
  expect(codes).toHaveProperty('name-unknown', undefined);
});

test('nowhere without a folder of pages, with one that is no address, or where the client cannot follow', async () => {
  for (const [capable, options] of [
    [true, undefined],
    [true, { rulePages: 'docs/rules' }],
    [true, { rulePages: 7 }],
    [false, { rulePages: 'file:///pages' }],
  ] as const) {
    expect(await codesFor(capable, options)).toHaveProperty('earthing-undeclared', undefined);
  }
});
