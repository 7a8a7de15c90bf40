/** The server as a process: over standard input and output (`--stdio`) or the channel of the starting process (`--node-ipc`). */
import { NodeFileSystem } from 'langium/node';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { ClientFiles, DiskAndClientFiles } from './files/client-files.ts';
import { serve } from './serve.ts';

const connection = createConnection(ProposedFeatures.all);
const clientFiles = new ClientFiles(connection);
serve(connection, new DiskAndClientFiles(NodeFileSystem.fileSystemProvider(), clientFiles), clientFiles);
