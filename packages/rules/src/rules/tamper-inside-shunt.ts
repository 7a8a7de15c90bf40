import type { ComponentId, ComponentOf, Moment, Zone } from '@couplet/engine';
import { circuitComponents, circuitOf, componentOf, nameOf } from '../circuit/circuits.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { expectedByDriver } from '../support/expected.ts';
import { casesOf, restOf } from '../support/instants.ts';
import { isNormal, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { showLoop } from '../support/words.ts';

type Contact = ComponentOf<'contact'>;

interface Data {
  readonly zone: string;
  readonly tamper: string;
  readonly alarm: string;
  readonly resistor: string;
  readonly reads: string | undefined;
  readonly ohms: number | undefined;
}

const ALARM = 'alarm';
/** How a tamper contact is recognised where no case says what it shall report. */
const NAMED = /tamper/i;

export const tamperInsideShunt = defineRule<Data>({
  name: 'tamper-inside-shunt',
  thresholds: [],
  explains: ['states-collide', 'expectation-failed'],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    for (const zone of wiredZones(context)) {
      if (zone.scheme === undefined || !isNormal(rest, zone)) continue;
      for (const { tamper, alarm, resistor, byName } of shuntedTampers(context, zone)) {
        const opened = opening(rest, tamper).reading(zone.id);
        // A contact whose opening is told apart from an alarm is watched, wherever its resistor is.
        if (opened.usual !== opening(rest, alarm).reading(zone.id).usual) continue;
        yield {
          severity: 'error',
          origin: whereWired(context.design, tamper.id, tamper.a),
          subject: tamper.id,
          alsoConcerns: [tamper.driver, resistor.id],
          alsoExplains: [zone.id],
          related: [{ origin: resistor.origin, message: `${resistor.name} lies across both contacts` }],
          assumptions: byName ? [`${tamper.name} taken as a tamper contact by its name`] : [],
          data: {
            zone: zone.name,
            tamper: tamper.name,
            alarm: alarm.name,
            resistor: resistor.name,
            reads: opened.usual,
            ohms: opened.ohms.sort === 'value' ? opened.ohms.usual : undefined,
          },
        };
      }
    }
  },
  word({ data }) {
    const { zone, tamper, alarm, resistor, reads, ohms } = data;
    const figure = ohms === undefined || !Number.isFinite(ohms) ? '' : ` (${showLoop(ohms)})`;
    return (
      `${resistor} lies across ${tamper} as well as across ${alarm}: with ${tamper} open ${zone} reads ${reads ?? 'no class'}${figure}, just as with ` +
      `${alarm} open, so an opened cover is never told from an alarm, and is not told at all while the zone is unset. Let ${resistor} lie across ${alarm} alone, and ` +
      `put ${tamper} in the loop outside it.`
    );
  },
});

interface Shunted {
  readonly tamper: Contact;
  readonly alarm: Contact;
  readonly resistor: ComponentOf<'resistor'>;
  readonly byName: boolean;
}

/** Tamper contacts of a loop that stand in series with another contact between the ends of one resistor. */
function* shuntedTampers(context: RuleContext, zone: Zone): Generator<Shunted> {
  const { design } = context;
  const expected = expectedByDriver(casesOf(context.analysis, zone.id), zone.id);
  for (const id of circuitComponents(design, zone.id)) {
    const resistor = componentOf(design, id, 'resistor');
    if (resistor === undefined) continue;
    const across = contactsAcross(context, zone, resistor);
    if (new Set(across.map((contact) => contact.driver)).size < 2) continue;
    const told = across.map((contact) => ({ contact, how: tamperHow(contact) }));
    const alarm = told.find(({ how }) => how === undefined)?.contact;
    if (alarm === undefined) continue;
    for (const { contact, how } of told) {
      if (how !== undefined) yield { tamper: contact, alarm, resistor, byName: how === 'name' };
    }
  }

  function tamperHow(contact: Contact): 'case' | 'name' | undefined {
    const words = expected.get(contact.driver);
    if (words !== undefined) return words.some((word) => !word.split('+').includes(ALARM)) ? 'case' : undefined;
    const driver = design.components[contact.driver];
    const said = [nameOf(design, contact.driver), driver?.description ?? '', contact.pole];
    return said.some((text) => NAMED.test(text)) ? 'name' : undefined;
  }
}

/** Contacts in series, with nothing but copper between them, from one end of a resistor to its other end. */
function contactsAcross(context: RuleContext, zone: Zone, resistor: ComponentOf<'resistor'>): readonly Contact[] {
  const wiring = wiringOf(context.design);
  const parts = circuitOf(context.design, zone.id).filter((part) => part.sort === 'contact' || part.sort === 'copper');
  const target = wiring.node(resistor.b);
  const from = wiring.node(resistor.a);
  const cameBy = new Map<NodeId, { readonly node: NodeId; readonly component: ComponentId } | undefined>([
    [from, undefined],
  ]);
  const queue = [from];
  for (let node = queue.shift(); node !== undefined && !cameBy.has(target); node = queue.shift()) {
    if (wiring.isPole(node)) continue;
    for (const part of parts) {
      if (part.a !== node && part.b !== node) continue;
      const next = part.a === node ? part.b : part.a;
      if (cameBy.has(next)) continue;
      cameBy.set(next, { node, component: part.component });
      queue.push(next);
    }
  }
  const found: Contact[] = [];
  for (let step = cameBy.get(target); step !== undefined; step = cameBy.get(step.node)) {
    const contact = componentOf(context.design, step.component, 'contact');
    if (contact !== undefined) found.push(contact);
  }
  return found.reverse();
}

function opening(moment: Moment, contact: Contact): Moment {
  return moment.vary([{ sort: 'remove', component: contact.id }]);
}
