/**
 * Parts of designs written by hand for tests. Every part gets its own origin (its index plus 1000), so that a test can
 * say where a finding should stand. Members of a unit are told by their names: `level.Q1` belongs to `level`.
 */
import type {
  Component,
  ComponentId,
  ComponentOf,
  Datum,
  Design,
  Join,
  Origin,
  Place,
  PlaceId,
  Terminal,
  TerminalId,
} from '@couplet/engine';
import { type Amount, choice, datum } from './data.ts';

/** What a test may leave out of a part: the builder fills it in. */
type Facts<K extends Component['kind'], Given extends string> = Partial<
  Omit<ComponentOf<K>, 'id' | 'name' | 'kind' | 'place' | 'a' | 'b' | Given>
> & { readonly place?: string };

export class PartsBuilder {
  readonly places: Place[] = [];
  readonly terminals: Terminal[] = [];
  readonly components: Component[] = [];
  readonly joins: Join[] = [];
  readonly title: string;
  readonly facts: Partial<Design['site']>;
  protected earthTerminal: TerminalId | undefined;
  protected readonly componentByName = new Map<string, ComponentId>();
  protected readonly terminalByName = new Map<string, TerminalId>();
  protected readonly placeByName = new Map<string, PlaceId>();
  protected nextOrigin = 100_000;

  constructor(title = 'Test site', facts: Partial<Design['site']> = {}) {
    this.title = title;
    this.facts = facts;
  }

  place(name: string, facts: Partial<Omit<Place, 'id' | 'name'>> = {}): this {
    const id = this.places.length;
    this.places.push({ id, name, origin: this.freshOrigin(), ...facts });
    this.placeByName.set(name, id);
    return this;
  }

  id(name: string): ComponentId {
    const id = this.componentByName.get(name);
    if (id === undefined) throw new Error(`The test's site has no part ${name}`);
    return id;
  }

  terminal(name: string): TerminalId {
    const id = this.terminalByName.get(name);
    if (id === undefined) throw new Error(`The test's site has no terminal ${name}`);
    return id;
  }

  unit(name: string, facts: Facts<'unit', 'members'> = {}): this {
    const id = this.add(name, { kind: 'unit', members: [], modes: [], settings: [], ...this.placed(facts) });
    this.members.set(id, []);
    return this;
  }

  /** `members` of a unit are told by their names: `level.Q1` belongs to `level`. */
  rail(name: string, minus: string, facts: Facts<'source', 'sort'> & { volts?: Datum } = {}): this {
    return this.source('rail', name, name, minus, facts);
  }

  supply(name: string, facts: Facts<'source', 'sort'> = {}): this {
    return this.source('supply', name, `${name}.plus`, `${name}.minus`, facts);
  }

  battery(name: string, facts: Facts<'source', 'sort'> = {}): this {
    return this.source('battery', name, `${name}.plus`, `${name}.minus`, facts);
  }

  protected source(
    sort: 'rail' | 'supply' | 'battery',
    name: string,
    plus: string,
    minus: string,
    facts: Facts<'source', 'sort'>,
  ): this {
    const id = this.components.length;
    const a = this.pin(plus, id);
    const b = this.pin(minus, id);
    this.add(name, { kind: 'source', sort, a, b, ...this.placed(facts) });
    return this;
  }

  feed(name: string, plus: string, minus: string, facts: Facts<'feed', never> = {}): this {
    const id = this.components.length;
    const a = this.pin(plus, id);
    const b = this.pin(minus, id);
    this.add(name, { kind: 'feed', a, b, ...this.placed(facts) });
    return this;
  }

  common(name: string, facts: Facts<'common', never> = {}): this {
    const a = this.pin(name, this.components.length);
    this.add(name, { kind: 'common', a, ...this.placed(facts) });
    return this;
  }

  joint(name: string, facts: Facts<'joint', never> = {}): this {
    const a = this.pin(name, this.components.length);
    this.add(name, { kind: 'joint', a, ...this.placed(facts) });
    return this;
  }

  output(
    name: string,
    style: 'sink' | 'source' | 'push-pull',
    facts: Omit<Facts<'output', 'style' | 'rest' | 'returns' | 'rail'>, 'rest'> & {
      returns?: string;
      rail?: string;
      rest?: 'on' | 'off' | 'pulsing';
    } = {},
  ): this {
    const { returns, rail, rest, ...others } = facts;
    const id = this.components.length;
    const a = this.pin(name, id);
    this.add(name, {
      kind: 'output',
      a,
      style: choice(style),
      rest: choice(rest ?? 'off'),
      ...(returns === undefined ? {} : { returns: this.pin(returns, id) }),
      ...(rail === undefined ? {} : { rail: this.id(rail) }),
      ...this.placed(others),
    });
    return this;
  }

  input(name: string, plus: string, minus: string, facts: Facts<'input', never> = {}): this {
    const id = this.components.length;
    const a = this.pin(plus, id);
    const b = this.pin(minus, id);
    this.add(name, { kind: 'input', a, b, ...this.placed(facts) });
    return this;
  }

  /** `bands` as [class, from, to]; an open side is `undefined`. Several classes are written 'alarm+masked'. */
  zone(
    name: string,
    returns: string,
    facts: Facts<'zone', 'scheme'> & {
      bands?: readonly (readonly [string, number | undefined, number | undefined])[];
      unit?: 'ohm' | 'V';
    } = {},
  ): this {
    const { bands, unit, ...others } = facts;
    const id = this.components.length;
    const a = this.pin(name, id);
    const b = this.pin(returns, id);
    const origin = this.freshOrigin();
    this.add(name, {
      kind: 'zone',
      a,
      b,
      ...(bands === undefined
        ? {}
        : {
            scheme: {
              name: 'bands',
              unit: unit ?? 'ohm',
              origin,
              bands: bands.map(([word, from, to]) => ({ classes: word.split('+'), from, to, origin })),
            },
          }),
      ...this.placed(others),
    });
    return this;
  }

  /** A volt-free contact of a unit between two terminals. */
  contact(
    name: string,
    from: string,
    to: string,
    facts: { rest?: 'open' | 'closed'; unpowered?: 'open' | 'closed' | 'unchanged'; ohms?: Amount } = {},
  ): this {
    const word = (state: 'open' | 'closed') => (state === 'closed' ? 'operated' : 'released');
    const unpowered = facts.unpowered;
    const driver = this.add(name, {
      kind: 'actuator',
      form: 'simple',
      rest: choice(word(facts.rest ?? 'open')),
      ...(unpowered === undefined
        ? {}
        : { unpowered: choice(unpowered === 'unchanged' ? 'unchanged' : word(unpowered)) }),
    });
    this.throw(`${name}.contact`, driver, from, to, 'operated', '1', facts.ohms);
    return this;
  }

  /** A changeover of a unit: terminals as printed on it. */
  changeover(
    name: string,
    common: string,
    closed: string,
    open: string,
    facts: {
      rest?: 'operated' | 'released';
      unpowered?: 'operated' | 'released' | 'unchanged';
      ohms?: Amount;
    } = {},
  ): this {
    const driver = this.add(name, {
      kind: 'actuator',
      form: 'changeover',
      rest: choice(facts.rest ?? 'released'),
      ...(facts.unpowered === undefined ? {} : { unpowered: choice(facts.unpowered) }),
    });
    this.throw(`${name}.nc`, driver, common, closed, 'released', '1', facts.ohms);
    this.throw(`${name}.no`, driver, common, open, 'operated', '1', facts.ohms);
    return this;
  }

  /** `poles` counts changeovers 11 12 14, 21 22 24 …; contacts are named `K1.11-12` and `K1.11-14`. */
  relay(
    name: string,
    facts: Facts<'relay', 'coil' | 'contacts' | 'secondCoil'> & {
      poles?: number;
      contactOhms?: Amount;
      contactFacts?: Partial<ComponentOf<'contact'>>;
      twoCoils?: boolean;
      /** A timer: what it does, and whether it has a control B1 against A2. */
      timed?: Omit<NonNullable<ComponentOf<'relay'>['timer']>, 'control' | 'controlTo' | 'function'> & {
        readonly function: NonNullable<ComponentOf<'relay'>['timer']>['function']['word'];
        readonly control?: boolean;
      };
    } = {},
  ): this {
    const { poles, contactOhms, contactFacts, twoCoils, timed, ...others } = facts;
    const id = this.components.length;
    const coil = { a: this.pin(`${name}.A1`, id), b: this.pin(`${name}.A2`, id) };
    const secondCoil = twoCoils ? { a: this.pin(`${name}.B1`, id), b: this.pin(`${name}.B2`, id) } : undefined;
    const contacts: ComponentId[] = [];
    this.add(name, {
      kind: 'relay',
      coil,
      contacts,
      ...(timed === undefined ? {} : { timer: this.timer(name, id, timed) }),
      ...(secondCoil === undefined ? {} : { secondCoil }),
      ...this.placed(others),
    });
    for (let pole = 1; pole <= (poles ?? 1); pole++) {
      const common = `${name}.${pole}1`;
      for (const [end, closes] of [
        ['2', 'released'],
        ['4', 'operated'],
      ] as const) {
        const contact = `${name}.${pole}1-${pole}${end}`;
        const other = `${name}.${pole}${end}`;
        contacts.push(this.throw(contact, id, common, other, closes, `${pole}`, contactOhms, contactFacts));
      }
    }
    return this;
  }

  private timer(
    name: string,
    id: ComponentId,
    { function: word, control, ...others }: { function: string; control?: boolean },
  ): ComponentOf<'relay'>['timer'] {
    const terminal = control === true ? { control: this.pin(`${name}.B1`, id) } : {};
    return { ...others, function: choice(word as 'on-delay'), ...terminal };
  }

  /** One pole: `break` 11-12 closed at rest, `make` 13-14 open at rest. */
  switch(
    name: string,
    form: 'break' | 'make',
    facts: Omit<Facts<'switch', 'contacts' | 'simple' | 'rest'>, 'rest'> & {
      rest?: 'operated' | 'released';
      contactOhms?: Amount;
    } = {},
  ): this {
    const { rest, contactOhms, ...others } = facts;
    const contacts: ComponentId[] = [];
    const id = this.add(name, {
      kind: 'switch',
      contacts,
      rest: choice(rest ?? 'released'),
      simple: true,
      ...this.placed(others),
    });
    const [from, to] = form === 'break' ? ['11', '12'] : ['13', '14'];
    const closes = form === 'break' ? 'released' : 'operated';
    const contact = `${name}.${from}-${to}`;
    contacts.push(this.throw(contact, id, `${name}.${from}`, `${name}.${to}`, closes, '1', contactOhms));
    return this;
  }

  /** Zones that count only together. */
  confirm(
    name: string,
    zones: readonly string[],
    facts: Pick<Facts<'confirm', 'zones'>, 'within' | 'partnerInTrouble'> = {},
  ): this {
    this.add(name, { kind: 'confirm', zones: zones.map((zone) => this.id(zone)), ...facts });
    return this;
  }

  /** An output is on while a zone, an input or a confirmation is in a state. */
  follow(output: string, ...followed: readonly (readonly [name: string, word: string])[]): this {
    const id = this.id(output);
    const follows = followed.map(([name, word]) => ({ component: this.id(name), word, origin: this.freshOrigin() }));
    this.components[id] = { ...(this.components[id] as ComponentOf<'output'>), follows };
    return this;
  }

  resistor(name: string, ohms: Amount, facts: Facts<'resistor', 'ohms'> = {}): this {
    return this.part(name, '1', '2', (a, b) => ({
      kind: 'resistor',
      a,
      b,
      ohms: datum(ohms),
      ...this.placed(facts),
    }));
  }

  capacitor(name: string, farads: Amount, facts: Facts<'capacitor', 'farads'> = {}): this {
    return this.part(name, 'plus', 'minus', (a, b) => ({
      kind: 'capacitor',
      a,
      b,
      farads: datum(farads),
      ...this.placed(facts),
    }));
  }

  diode(name: string, drop: Amount, facts: Facts<'diode', 'drop'> = {}): this {
    return this.part(name, 'A', 'K', (a, b) => ({ kind: 'diode', a, b, drop: datum(drop), ...this.placed(facts) }));
  }

  fuse(name: string, ohms: Amount, facts: Facts<'fuse', 'ohms'> = {}): this {
    return this.part(name, '1', '2', (a, b) => ({ kind: 'fuse', a, b, ohms: datum(ohms), ...this.placed(facts) }));
  }

  load(
    name: string,
    style: 'resistive' | 'constant-current' | 'constant-power',
    rating: ComponentOf<'load'>['rating'],
    facts: Facts<'load', 'style' | 'rating'> = {},
  ): this {
    return this.part(name, 'plus', 'minus', (a, b) => ({
      kind: 'load',
      a,
      b,
      style: choice(style),
      rating,
      modes: [],
      ...this.placed(facts),
    }));
  }

  /** Cores run from place to place; `ohms` is that of one core at 20 °C. Ends are `W1.GN.mill` and `W1.GN.pit`. */
  cable(name: string, cores: readonly string[], ohms: Amount | undefined, from: string, to: string): this {
    const ends = [this.placeId(from), this.placeId(to)];
    const ids: ComponentId[] = [];
    const cable = this.add(name, { kind: 'cable', cores: ids, ends });
    for (const colour of cores) {
      const id = this.components.length;
      const core = `${name}.${colour}`;
      const a = this.pin(`${core}.${from}`, id, ends[0]);
      const b = this.pin(`${core}.${to}`, id, ends[1]);
      ids.push(
        this.add(core, {
          kind: 'core',
          cable,
          owner: cable,
          a,
          b,
          colour,
          ...(ohms === undefined ? { lacks: 'length' } : { ohms: datum(ohms) }),
        }),
      );
    }
    return this;
  }

  earth(name = 'earth'): this {
    const joint = this.components.length;
    this.earthTerminal = this.pin(name, joint);
    this.add(name, { kind: 'joint', a: this.earthTerminal });
    return this;
  }

  protected readonly members = new Map<ComponentId, ComponentId[]>();

  protected freshOrigin(): Origin {
    return this.nextOrigin++;
  }

  protected component(name: string): Component {
    return this.components[this.id(name)]!;
  }

  protected placeId(name: string): PlaceId {
    const id = this.placeByName.get(name);
    if (id === undefined) throw new Error(`The test's site has no place ${name}`);
    return id;
  }

  protected placed<F extends { readonly place?: string }>(facts: F): Omit<F, 'place'> & { place?: PlaceId } {
    const { place, ...others } = facts;
    return place === undefined ? others : { ...others, place: this.placeId(place) };
  }

  protected add(name: string, facts: Record<string, unknown>): ComponentId {
    const id = this.components.length;
    const dot = name.indexOf('.');
    const owner = dot < 0 ? undefined : this.componentByName.get(name.slice(0, dot));
    const ownerPart = owner === undefined ? undefined : this.components[owner];
    const place = facts.place ?? ownerPart?.place;
    this.components.push({
      id,
      name,
      origin: 1000 + id,
      ...(owner === undefined ? {} : { owner }),
      ...facts,
      ...(place === undefined ? {} : { place }),
    } as unknown as Component);
    if (this.componentByName.has(name)) throw new Error(`The test's site has ${name} twice`);
    this.componentByName.set(name, id);
    if (owner !== undefined) this.members.get(owner)?.push(id);
    return id;
  }

  protected pin(name: string, component: ComponentId, place?: PlaceId): TerminalId {
    const known = this.terminalByName.get(name);
    if (known !== undefined) return known;
    const id = this.terminals.length;
    this.terminals.push({ id, name, component, origin: 1000 + component, ...(place === undefined ? {} : { place }) });
    this.terminalByName.set(name, id);
    return id;
  }

  protected part(name: string, first: string, second: string, make: (a: TerminalId, b: TerminalId) => object): this {
    const id = this.components.length;
    const a = this.pin(`${name}.${first}`, id);
    const b = this.pin(`${name}.${second}`, id);
    this.add(name, make(a, b) as Record<string, unknown>);
    return this;
  }

  protected throw(
    name: string,
    driver: ComponentId,
    from: string,
    to: string,
    closes: 'operated' | 'released',
    pole: string,
    ohms: Amount | undefined,
    facts: Partial<ComponentOf<'contact'>> = {},
  ): ComponentId {
    const id = this.components.length;
    const a = this.pin(from, id);
    const b = this.pin(to, id);
    const closed: Datum = ohms === undefined ? datum(0) : datum(ohms);
    return this.add(name, { kind: 'contact', a, b, driver, pole, closes, late: false, ohms: closed, ...facts });
  }
}
