import type { Component, Contact } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { list, show } from '../support/words.ts';

interface Data {
  readonly driver: string;
  readonly foreign: string;
  readonly volts: number;
  readonly isAlternating: boolean;
  readonly others: readonly string[];
}

export const mainsBesideElv = defineRule<Data>({
  name: 'mains-beside-elv',
  thresholds: [
    {
      key: 'alternating',
      value: 50,
      unit: 'V',
      says: 'most volts a.c. of extra-low voltage',
      origin: 'IEC 61140',
      standing: 'standard',
      settable: false,
    },
    {
      key: 'direct',
      value: 120,
      unit: 'V',
      says: 'most volts d.c. of extra-low voltage',
      origin: 'IEC 61140',
      standing: 'standard',
      settable: false,
    },
  ],
  explains: ['voltage-above-elv'],
  *find(context) {
    const { design } = context;
    const wiring = wiringOf(design);
    const isAbove = (contact: Contact) =>
      contact.carries !== undefined &&
      contact.carries.volts > context.threshold(contact.carries.alternating ? 'alternating' : 'direct').value;
    const byDriver = new Map<number, Contact[]>();
    for (const contact of ofKind(design, 'contact')) {
      byDriver.set(contact.driver, [...(byDriver.get(contact.driver) ?? []), contact]);
    }
    for (const [id, contacts] of byDriver) {
      const driver = design.components[id];
      if (driver === undefined || isReinforced(driver)) continue;
      const foreign = contacts.find(isAbove);
      if (foreign === undefined) continue;
      const others = contacts.filter(
        (contact) =>
          contact.pole !== foreign.pole &&
          !isAbove(contact) &&
          (wiring.isWired(contact.a) || wiring.isWired(contact.b)),
      );
      if (others.length === 0) continue;
      yield {
        severity: 'error',
        origin: foreign.carries!.origin < 0 ? driver.origin : foreign.carries!.origin,
        subject: foreign.id,
        alsoConcerns: [id, ...contacts.filter(isAbove).map((contact) => contact.id)],
        related: others.map((contact) => ({
          origin: contact.origin,
          message: `${contact.name} is wired at extra-low voltage`,
        })),
        data: {
          driver: driver.name,
          foreign: foreign.name,
          volts: foreign.carries!.volts,
          isAlternating: foreign.carries!.alternating,
          others: others.map((contact) => contact.name),
        },
      };
    }
  },
  word({ data }) {
    const { driver, foreign, volts, isAlternating, others } = data;
    const kind = isAlternating ? 'a.c.' : 'd.c.';
    return (
      `${foreign} carries ${show(volts, 'V')} ${kind} beside ${list(others)} at extra-low voltage in ${driver}, and nothing says that ` +
      `reinforced insulation parts them: one fault puts dangerous volts on cables that people touch. Use two relays, or one ` +
      `whose data promise it (\`isolation: reinforced\`). Local rules and a licensed person decide.`
    );
  },
});

function isReinforced(driver: Component): boolean {
  return (driver.kind === 'relay' || driver.kind === 'switch') && driver.isolation?.word === 'reinforced';
}
