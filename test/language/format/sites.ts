/** Sites drawn at random: two places, parts in either or in none, chains, cases, lists; most of them sound. */
import fc from 'fast-check';

const HEAD = `site "Drawn" {
  blind: 2
  limits { output-overloaded: 90% }
}
place pit "Pit" { ambient: -5 degC .. 40 degC  wet: yes }
place mill "Mill"
type Panel : unit {
  rail AUX { volts: 10.5 V .. 13 V .. 13.8 V  limit: 750 mA  return: 0V }
  common 0V { earthed: yes }
  output Q1, Q2 { style: sink  return: 0V  rated: 200 mA  drop: 0.5 V  leak: 20µA  at-power-up: off }
  zone Z1 .. Z4 { feed: 5V via 4k7  return: 0V  bands { short: below 1k1  normal: 1k1 .. 3k9  open: above 3k9 } }
}
type Small : relay { coil: 12 V, 720 ohm ±10%  operates: 70%  contacts: changeover }
type Loop : assembly {
  given Z : zone
  switch S1 { contacts: break }
  resistor RS = 1k in here
  wire Z -- S1.11-12 -- RS -- Z.return
}
unit panel : Panel in mill
unit pump-controller-at-the-wheel : Panel in pit
relay K1 : Small in pit
relay K2 : Small in mill
assembly B1 : Loop { Z: panel.Z4 }
cable W1 { cores: 12  length: 140m  from: mill  to: pit }
`;

const UNITS = ['panel', 'pump-controller-at-the-wheel'];

interface Part {
  readonly kind: string;
  readonly place: string;
  readonly value: string;
  readonly body: string;
}

const part: fc.Arbitrary<Part> = fc.oneof(
  fc.record({
    kind: fc.constant('resistor'),
    place: fc.constantFrom('', ' in pit', ' in mill'),
    value: fc.constantFrom('2k2', '470 Ω ±5 %', '4.7kohm +-1%', '1M0'),
    body: fc.constantFrom('', ' "Across the contact"'),
  }),
  fc.record({
    kind: fc.constant('diode'),
    place: fc.constantFrom('', ' in pit'),
    value: fc.constantFrom('1A', '200 mA'),
    body: fc.constantFrom('', ' { drop: 0.7 V }', ' { drop: 0.7V  reverse: 100 V }'),
  }),
  fc.record({
    kind: fc.constant('load'),
    place: fc.constantFrom('', ' in pit', ' in mill'),
    value: fc.constantFrom('6 W @ 12V', '0.5 A'),
    body: fc.constantFrom(
      '',
      ' { style: resistive  works: 10 V..15 V  inrush: 150% @ 10 ms }',
      ' "Beacon" "on the roof"',
    ),
  }),
);

/** A drawn site as the text of one file. */
export const siteText: fc.Arbitrary<string> = fc
  .record({
    parts: fc.array(part, { minLength: 1, maxLength: 12 }),
    order: fc.array(fc.nat(999), { minLength: 20, maxLength: 20 }),
    lengths: fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 8, maxLength: 8 }),
    steps: fc.array(fc.nat(5), { maxLength: 6 }),
    spares: fc.integer({ min: 1, max: 12 }),
  })
  .map(({ lengths, order, parts, spares, steps }) => {
    const names = parts.map(
      ({ kind }, i) => `${kind === 'load' ? 'beacon-number-' : kind.charAt(0).toUpperCase()}${i}`,
    );
    const declared = parts.map(({ body, kind, place, value }, i) => `${kind} ${names[i]} = ${value}${place}${body}`);
    const through = [...names, 'K1.11-14', 'K2.11-12', ...Array.from({ length: 4 }, (_, i) => `W1.${i + 1}`)];
    const shuffled = through.map((name, i) => ({ name, key: order[i % order.length] as number }));
    shuffled.sort((a, b) => a.key - b.key || (a.name < b.name ? -1 : 1));
    const chains: string[] = [];
    for (let next = 0; next < shuffled.length; ) {
      const length = lengths[chains.length % lengths.length] as number;
      const [one, other] = [UNITS[next % 2], UNITS[(next + length) % 2]];
      const inner = shuffled.slice(next, next + length).map(({ name }) => name);
      chains.push(`wire ${[`${one}.Z${(next % 3) + 1}`, ...inner, `${other}."0V"`].join(' -- ')}`);
      next += length;
    }
    const spare = Array.from({ length: spares }, (_, i) => `W1.${i + 1}`);
    return `${HEAD}${declared.join('\n')}\n${chains.join('\n')}
bond panel."0V" -- pump-controller-at-the-wheel."0V" because "one" "two"
spare ${spare.join(', ')}
case alarm "Alarm" { ${steps.map((step) => STEPS[step]).join('  ')} }
accept open-end on W1 because "${'none needs it '.repeat(spares)}" until 2028-01-31
`;
  });

const STEPS = [
  'turn panel.Q1 on',
  'turn panel.Q2 on for 3s',
  'wait 100 s',
  'expect panel.Z1 open within 1s',
  'expect volts panel.AUX to panel."0V" ≥ 10.5V',
  'expect K1 released throughout',
];
