/** The server in a web worker: its messages are those of the worker, its files those that the client reads. */
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  createConnection,
  ProposedFeatures,
} from 'vscode-languageserver/browser';
import { ClientFiles } from './files/client-files.ts';
import { serve } from './serve.ts';

// Nothing in a worker's global scope is named in a program that is checked for Node.
const scope = globalThis as never;
const connection = createConnection(
  ProposedFeatures.all,
  new BrowserMessageReader(scope),
  new BrowserMessageWriter(scope),
);
const files = new ClientFiles(connection);
serve(connection, files, files);
