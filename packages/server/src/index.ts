/** The language server over the project: what an editor shows and asks for. */
export { type ServerOptions, startServer } from './server.ts';
export { createServerServices, type ServerServices, type SiteSource } from './services.ts';
export { CheckedSites } from './sites/checked-sites.ts';
export type { ChangedFiles, CheckedSite, Pause, Sites } from './sites/seam.ts';
