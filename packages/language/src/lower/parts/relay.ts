/** Relays with their coils, timers, and passive switches. */
import { type Choice, type Datum, exact, type Relay, type Switch } from '@couplet/engine';
import type { Part } from '../part.ts';
import { type PartBuilder, scaled } from './builder.ts';
import { buildContacts, drivenState, polesOf } from './contacts.ts';

export function buildRelay(b: PartBuilder): void {
  const { facts } = b;
  const id = b.next;
  b.part.id = id;
  const coil = { a: b.terminal('A1', id), b: b.terminal('A2', id) };
  b.point('A1-A2', { pass: { component: id, first: coil.a, second: coil.b, repeat: 'once' } });
  const latching = facts.given<'two-coil' | 'reversing' | 'no'>('latching');
  const secondCoil = latching?.word === 'two-coil' ? addSecondCoil(b) : undefined;
  const rated = facts.datum('coil', 'V');
  b.noteAlternating('coil');
  const operates = voltsOf(b, 'operates', rated);
  const contacts: number[] = [];
  b.add<Relay>({
    kind: 'relay',
    ...b.head(),
    coil,
    secondCoil,
    rated,
    ohms: coilOhms(b, rated),
    operates,
    releases: voltsOf(b, 'releases', rated),
    holds: voltsOf(b, 'holds', rated) ?? assumedHolds(b, operates),
    range: voltsOf(b, 'range', rated) ?? assumedRange(b, rated),
    rise: facts.datum('rise'),
    inductance: facts.datum('inductance'),
    operateTime: facts.datum('operate-time'),
    releaseTime: facts.datum('release-time'),
    contacts,
    suppressor: b.suppressor(),
    latching: latching?.word === 'no' ? undefined : (latching as Relay['latching']),
    minimumPulse: facts.datum('minimum-pulse'),
    selfHold: facts.choice('self-hold'),
    timer: timerOf(b, coil.a, coil.b),
    rest: facts.choice<'operated' | 'released' | 'set' | 'reset'>('rest'),
    isolation: facts.choice('isolation'),
  });
  contacts.push(...buildContacts(b, id));
}

function addSecondCoil(b: PartBuilder): Relay['coil'] {
  const component = b.part.id;
  const coil = { a: b.terminal('B1', component), b: b.terminal('B2', component) };
  b.point('B1-B2', { pass: { component, first: coil.a, second: coil.b, repeat: 'once' } });
  return coil;
}

/** Ohms at 20 °C as given, or from the coil's rated watts or amperes. */
function coilOhms(b: PartBuilder, rated: Datum | undefined): Datum | undefined {
  const ohms = b.facts.datum('coil', 'ohm');
  if (ohms !== undefined || rated === undefined) return ohms;
  const watts = b.facts.datum('coil', 'W');
  if (watts !== undefined) return exact(rated.usual ** 2 / watts.usual, watts.origin, 'coil ohms from its rated watts');
  const amps = b.facts.datum('coil', 'A');
  return amps === undefined
    ? undefined
    : exact(rated.usual / amps.usual, amps.origin, 'coil ohms from its rated current');
}

/** Volts as given, or a percentage of the rated ones. */
function voltsOf(b: PartBuilder, name: string, rated: Datum | undefined): Datum | undefined {
  const amount = b.facts.amount(name);
  if (amount?.dimension === 'V') return b.facts.datumOf(amount, name);
  const share = amount === undefined ? b.facts.assumed(name) : b.facts.datumOf(amount, name);
  return share === undefined || rated === undefined ? undefined : scaled(share, rated.usual);
}

function assumedHolds(b: PartBuilder, operates: Datum | undefined): Datum | undefined {
  if (operates === undefined || b.facts.has('holds')) return undefined;
  return { ...operates, origin: b.origin, assumption: 'holds taken equal to operates (common practice, no source)' };
}

/** A coil may be driven continuously up to this share of its rated volts: IEC 61810-1, from memory. */
const RANGE_MOST = 1.1;

function assumedRange(b: PartBuilder, rated: Datum | undefined): Datum | undefined {
  if (rated === undefined || b.facts.has('range')) return undefined;
  const assumption = 'range taken as up to 110 % of the rated volts (IEC 61810-1, from memory)';
  return { least: 0, usual: rated.usual, most: RANGE_MOST * rated.usual, origin: b.origin, assumption };
}

function timerOf(b: PartBuilder, plus: number, minus: number): Relay['timer'] {
  const { facts } = b;
  const kind = facts.choice<'off-delay' | 'on-delay' | 'one-shot' | 'pulsing'>('function');
  if (kind === undefined) return undefined;
  // A timer that starts with its supply has no control unless something is wired to it.
  const hasControl = kind.word === 'off-delay' || kind.word === 'one-shot';
  const control = hasControl ? b.terminal('B1', b.part.id) : undefined;
  if (!hasControl) {
    b.part.extra = new Map([
      [
        'B1',
        () => {
          const relay = b.site.components[b.part.id] as { timer: Relay['timer'] };
          const made = b.terminal('B1', b.part.id);
          relay.timer = { ...(relay.timer as NonNullable<Relay['timer']>), control: made };
          return made;
        },
      ],
    ]);
  }
  return {
    function: kind,
    time: facts.datum('time'),
    retriggerable: facts.choice('retriggerable'),
    minimumTrigger: facts.datum('minimum-trigger'),
    control,
    controlTo: facts.choice('control-to')?.word === 'A1' ? plus : minus,
    draws: facts.datum('draws'),
    works: facts.datum('works'),
  };
}

export function buildSwitch(b: PartBuilder): void {
  const id = b.next;
  b.part.id = id;
  const poles = polesOf(b.facts);
  const [only] = poles;
  const simple = poles.length === 1 && only !== undefined && only.form !== 'changeover';
  const contacts: number[] = [];
  b.add<Switch>({
    kind: 'switch',
    ...b.head(),
    contacts,
    rest: restOf(b, simple && only.form === 'make'),
    simple,
    isolation: b.facts.choice('isolation'),
  });
  contacts.push(...buildContacts(b, id));
  if (simple) letNameAlone(b.part);
}

function restOf(b: PartBuilder, makes: boolean): Choice<'operated' | 'released'> {
  const rest = drivenState(b.facts.choice('rest'), makes);
  if (rest?.word === 'operated') return { ...rest, word: 'operated' };
  return { origin: b.origin, ...rest, word: 'released' };
}

/** A switch with one contact may stand in a chain under its name alone. */
function letNameAlone(part: Part): void {
  for (const point of part.points.values()) {
    if (point.pass !== undefined) part.alone = { pass: point.pass };
  }
}
