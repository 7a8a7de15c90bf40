/**
 * What a rule is about, as a question to a design. A rule that is not computed yet names its matter, so that a site
 * where that matter is present says so and nothing passes silently.
 */
import type { Component, ComponentId, Design } from '@couplet/engine';

interface Matter {
  /** As it stands after 'for'. */
  readonly words: string;
  /** The components of this matter in a design, in the order of the design. */
  find(design: Design): readonly ComponentId[];
}

function those(words: string, test: (component: Component) => boolean): Matter {
  return { words, find: (design) => design.components.filter(test).map((component) => component.id) };
}

/** The components that tests select, when there are at least two of them. */
function several(words: string, test: (component: Component) => boolean): Matter {
  const one = those(words, test);
  return {
    words,
    find: (design) => {
      const found = one.find(design);
      return found.length > 1 ? found : [];
    },
  };
}

const isSource = (component: Component) => component.kind === 'source';
const roleIs =
  (...words: string[]) =>
  (component: Component) =>
    component.role !== undefined && words.includes(component.role.word);

export const MATTERS = {
  anything: those('the whole site', () => true),
  output: those('outputs', (c) => c.kind === 'output'),
  'load on an output': those('loads', (c) => c.kind === 'load'),
  'pulsed output': those('pulsed outputs', (c) => c.kind === 'output' && c.pattern !== undefined),
  consumer: those('loads and coils', (c) => c.kind === 'load' || c.kind === 'relay' || c.kind === 'feed'),
  load: those('loads', (c) => c.kind === 'load' || c.kind === 'feed'),
  modes: those('ways of working', (c) => (c.kind === 'load' || c.kind === 'unit') && c.modes.length > 0),
  relay: those('relays', (c) => c.kind === 'relay'),
  'latching relay': those('latching relays', (c) => c.kind === 'relay' && c.latching !== undefined),
  'self-hold': those('relays that hold themselves', (c) => c.kind === 'relay' && c.selfHold !== undefined),
  timer: those('timers', (c) => c.kind === 'relay' && c.timer !== undefined),
  'suppressed coil': those(
    'suppressed coils',
    (c) => (c.kind === 'relay' || c.kind === 'load') && c.suppressor !== undefined && c.suppressor.sort !== 'none',
  ),
  'inductive part': those('coils', (c) => c.kind === 'relay' || (c.kind === 'load' && c.inductance !== undefined)),
  contact: those('contacts', (c) => c.kind === 'contact'),
  'contact of a unit': those('contacts of units', (c) => c.kind === 'actuator'),
  'foreign circuit': those('poles that carry foreign circuits', (c) => c.kind === 'contact' && c.carries !== undefined),
  zone: those('zones', (c) => c.kind === 'zone'),
  'several contacts in a loop': {
    words: 'loops',
    find: (design) =>
      design.components.filter((c) => c.kind === 'contact').length > 1
        ? design.components.filter((c) => c.kind === 'zone').map((c) => c.id)
        : [],
  },
  reader: those('zones and inputs', (c) => c.kind === 'zone' || c.kind === 'input'),
  confirmation: those('confirmations', (c) => c.kind === 'confirm'),
  source: those('supplies', isSource),
  'several sources': several('supplies', isSource),
  battery: those('batteries', (c) => c.kind === 'source' && c.sort === 'battery'),
  'standing total': those('standing totals', (c) => c.kind === 'unit' && c.standing !== undefined),
  fuse: those('fuses', (c) => c.kind === 'fuse'),
  core: those('cables', (c) => c.kind === 'core'),
  resistor: those('resistors', (c) => c.kind === 'resistor'),
  'emergency release': those('emergency releases', roleIs('emergency-release')),
  'escape lock': those('locks on escape routes', roleIs('escape-lock')),
  'safety function': those('safety functions', roleIs('safety-function', 'fire-detection')),
  expectation: { words: 'expectations', find: () => [] },
  reading: {
    words: 'readings',
    find: (design) => (design.readings.length > 0 ? [design.readings[0]!.component ?? 0] : []),
  },
  acceptance: { words: 'acceptances', find: () => [] },
} satisfies Record<string, Matter>;

export type MatterName = keyof typeof MATTERS;
