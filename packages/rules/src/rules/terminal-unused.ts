import { unusedRule } from '../support/unused.ts';

/** Cores and contacts have findings of their own; a joint is there for what comes later. */
export const terminalUnused = unusedRule(
  'terminal-unused',
  new Set([
    'feed',
    'source',
    'common',
    'terminal',
    'output',
    'input',
    'zone',
    'relay',
    'load',
    'resistor',
    'diode',
    'capacitor',
    'fuse',
    'arrester',
  ]),
);
