import { ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { byOrigin } from '../support/group.ts';
import { listSome } from '../support/words.ts';

interface Data {
  readonly names: readonly string[];
}

export const contactUnpoweredUndeclared = defineRule<Data>({
  name: 'contact-unpowered-undeclared',
  thresholds: [],
  explains: [],
  *find({ design }) {
    const wiring = wiringOf(design);
    const used = new Set<number>();
    for (const contact of ofKind(design, 'contact')) {
      if (wiring.isWired(contact.a) && wiring.isWired(contact.b)) used.add(contact.driver);
    }
    const open = [...ofKind(design, 'actuator')].filter(
      (actuator) => actuator.unpowered === undefined && used.has(actuator.id),
    );
    for (const group of byOrigin(open)) {
      yield {
        severity: 'warning',
        origin: group[0].origin,
        subject: group[0].id,
        alsoConcerns: group.slice(1).map((actuator) => actuator.id),
        data: { names: group.map((actuator) => actuator.name) },
      };
    }
  },
  word({ data }) {
    return (
      `Nothing says where the contact ${listSome(data.names)} goes when its unit is dead. Whether a lost supply is reported ` +
      `hangs on it. Look it up, or measure it on the unit without supply, and write \`unpowered: open\` (closed, unchanged).`
    );
  },
});
