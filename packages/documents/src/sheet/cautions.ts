/** What stands first on every sheet. */
import type { Section } from './model.ts';

export const CAUTIONS: Section = {
  heading: 'Cautions',
  notes: [
    'Extra-low voltage only: nothing here covers mains. Local codes and licensed practice come first.',
    'No safety function of a machine or gate, no fire detection and no escape route is designed by this sheet.',
    'Isolate the machine and its stored energy before opening it, and prove dead before measuring ohms.',
    'Batteries deliver very large short-circuit currents: fuse at the terminal, insulate tools, take off rings.',
    'Sounders hurt ears at arm’s length: warn people and wear protection before a live test.',
    'Predicted values are only as good as the data entered. Prove every case by operating it, with a meter.',
  ],
};
