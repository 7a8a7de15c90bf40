import { unusedRule } from '../support/unused.ts';

export const poleUnused = unusedRule('pole-unused', new Set(['contact']));
