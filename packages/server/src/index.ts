/** The language server over the project: what an editor shows and asks for. */
export { type ServerOptions, startServer } from './server.ts';
export { createServerServices, type ServerServices } from './services.ts';
export type { ChangedFiles, Pause, Sites } from './sites.ts';
