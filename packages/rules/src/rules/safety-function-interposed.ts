import { defineRule } from '../define.ts';
import { isConnected } from '../support/place.ts';

interface Data {
  readonly name: string;
  readonly role: 'safety-function' | 'fire-detection';
}

const SAYS: Readonly<Record<Data['role'], string>> = {
  'safety-function':
    'a safety function of a machine: EN ISO 13849-1 and EN 12453 govern it, and interposing ordinary relays voids it',
  'fire-detection': 'part of fire detection: EN 54 and national rules govern it, and only listed parts may stand in it',
};

export const safetyFunctionInterposed = defineRule<Data>({
  name: 'safety-function-interposed',
  thresholds: [],
  explains: [],
  *find({ design }) {
    for (const component of design.components) {
      const role = component.role?.word;
      if (role !== 'safety-function' && role !== 'fire-detection') continue;
      const parts = design.components.filter((other) => other.id === component.id || other.owner === component.id);
      if (!parts.some((part) => isConnected(design, part.id))) continue;
      const written = component.role!.origin;
      yield {
        severity: 'error',
        origin: written < 0 ? component.origin : written,
        subject: component.id,
        data: { name: component.name, role },
      };
    }
  },
  word({ data }) {
    return (
      `${data.name} is ${SAYS[data.role]}. Couplet does not judge it. Leave its circuit as its maker built it, and take a ` +
      `signal from the volt-free output that is meant for reporting.`
    );
  },
});
