/**
 * The bundle for browsers in a thread whose global scope has what a web worker's has and nothing of Node: no `process`, no
 * `require`, no `Buffer`. Messages come as a worker's do.
 */
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { createProtocolConnection, PortMessageReader, PortMessageWriter } from 'vscode-languageserver/node';
import { root, type Transport } from './client.ts';

export const WORKER_BUNDLE = join(root, 'packages/vscode/dist/server.worker.js');

const SCOPE = [
  'AbortController',
  'TextDecoder',
  'TextEncoder',
  'URL',
  'URLSearchParams',
  'atob',
  'btoa',
  'clearInterval',
  'clearTimeout',
  'crypto',
  'performance',
  'queueMicrotask',
  'setInterval',
  'setTimeout',
  'structuredClone',
];

const THREAD = `
const { readFileSync } = require('node:fs');
const { parentPort, workerData } = require('node:worker_threads');
const vm = require('node:vm');
const scope = { console: { ...console } };
for (const name of workerData.names) scope[name] = globalThis[name];
scope.postMessage = (message) => parentPort.postMessage(message);
scope.addEventListener = () => undefined;
vm.createContext(scope);
vm.runInContext('globalThis.self = globalThis', scope);
vm.runInContext(readFileSync(workerData.bundle, 'utf8'), scope, { filename: workerData.bundle });
// As in a browser, a message is made of the receiving scope's own objects.
const deliver = vm.runInContext('(text) => onmessage({ data: JSON.parse(text) })', scope);
parentPort.on('message', (message) => deliver(JSON.stringify(message)));
`;

/** Starts it; what it throws outside of any request ends the test. */
export function browserWorker(): Transport {
  const worker = new Worker(THREAD, { eval: true, workerData: { bundle: WORKER_BUNDLE, names: SCOPE } });
  worker.on('error', (error) => {
    throw error;
  });
  const connection = createProtocolConnection(
    new PortMessageReader(worker as never),
    new PortMessageWriter(worker as never),
  );
  return { connection, end: () => void worker.terminate() };
}
