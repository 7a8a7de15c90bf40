/** The command as a function: for the process, and for tests. */
export { run } from './run.ts';
export * from './terminal.ts';
export { EXIT, type Exit } from './verb.ts';
