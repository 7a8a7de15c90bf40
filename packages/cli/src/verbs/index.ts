/** The verbs, in the order of the help. */
import type { Verb } from '../verb.ts';
import { check } from './check.ts';
import { draw } from './draw.ts';
import { explain } from './explain.ts';
import { faults } from './faults.ts';
import { figures } from './figures.ts';
import { format } from './format.ts';
import { sheet } from './sheet.ts';
import { trace } from './trace.ts';
import { values } from './values.ts';

export const VERBS: readonly Verb[] = [check, figures, faults, trace, format, sheet, draw, explain, values];
