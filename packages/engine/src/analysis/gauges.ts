/** How figures are read from a solved island. Volts V, amperes A, watts W, ohms Ω. */
import type { Element, Island } from '../build/index.ts';
import type { Measure } from './extremes.ts';
import type { Gauge } from './range.ts';
import type { Read } from './sensitivity.ts';

/** Volts between two nodes of the island, by their global numbers. */
export function voltsGauge(island: Island, from: number, to: number): Gauge {
  const a = island.local(from);
  const b = island.local(to);
  return { name: `v${a}-${b}`, measure: () => voltsBetween(a, b) };
}

function voltsBetween(a: number, b: number): Measure {
  return reading([{ sort: 'volts', a, b }], ({ volts, group }) =>
    group[a] === group[b] ? volts[a]! - volts[b]! : undefined,
  );
}

/** A measure that says what it is read from. */
function reading(reads: readonly Read[], measure: Measure): Measure {
  measure.reads = reads;
  return measure;
}

function readsOf(...measures: readonly Measure[]): readonly Read[] {
  return measures.flatMap((measure) => measure.reads ?? []);
}

/** Amperes through elements of the island, each counted as its component counts it. */
export function ampsGauge(island: Island, elements: readonly Element[]): Gauge {
  const places = elements.map((element) => ({ at: island.elements.indexOf(element), sign: element.rule.counts }));
  return {
    name: `i${places.map(({ at, sign }) => `${sign < 0 ? '-' : '+'}${at}`).join('')}`,
    measure: (circuit) => {
      const laws = places.map(({ at, sign }) => ({ law: circuit.lawOf[at]!, sign }));
      const reads = laws.flatMap(({ law }): Read[] => (law < 0 ? [] : [{ sort: 'amps', law }]));
      return reading(reads, ({ amps }) =>
        laws.reduce((sum, { law, sign }) => (law < 0 ? sum : sum + sign * amps[law]!), 0),
      );
    },
  };
}

/** Amperes that the island draws from a supply that it hangs on. */
export function drawnGauge(island: Island, supply: Element): Gauge {
  const pin = island.pins.findIndex((other) => other.element === supply);
  return {
    name: `drawn${pin}`,
    measure: (circuit) => {
      const law = circuit.pinLaw[pin]!;
      return reading([{ sort: 'amps', law }], ({ amps }) => -amps[law]! + 0);
    },
  };
}

/** Watts taken by elements between two nodes: volts times amperes, as their component counts them. */
export function wattsGauge(island: Island, elements: readonly Element[], from: number, to: number): Gauge {
  const volts = voltsGauge(island, from, to);
  const amps = ampsGauge(island, elements);
  return {
    name: `w${volts.name}${amps.name}`,
    measure: (circuit) => product(volts.measure(circuit), amps.measure(circuit)),
    matched: (circuit) => {
      const laws = elements
        .map((element) => circuit.lawOf[island.elements.indexOf(element)]!)
        .filter((law) => law >= 0);
      return laws.length === 1 ? laws[0] : undefined;
    },
  };
}

/** Watts that the island draws from a supply that it hangs on. */
export function drawnWattsGauge(island: Island, supply: Element): Gauge {
  const volts = voltsGauge(island, supply.a, supply.b);
  const amps = drawnGauge(island, supply);
  return {
    name: `w${volts.name}${amps.name}`,
    measure: (circuit) => product(volts.measure(circuit), amps.measure(circuit)),
  };
}

function product(volts: Measure, amps: Measure): Measure {
  return reading(readsOf(volts, amps), (solved) => {
    const v = volts(solved);
    const i = amps(solved);
    return v === undefined || i === undefined ? undefined : v * i;
  });
}

/**
 * Ohms that a unit infers from the volts at its terminal, knowing its own feed: volts over the current that its feed
 * drives into the loop. Infinite where no current flows into the loop.
 */
export function loopOhmsGauge(island: Island, feedOhms: Element, terminal: number, returns: number): Gauge {
  const volts = voltsGauge(island, terminal, returns);
  const amps = ampsGauge(island, [feedOhms]);
  return {
    name: `ohms${volts.name}${amps.name}`,
    measure: (circuit) => {
      const v = volts.measure(circuit);
      const i = amps.measure(circuit);
      return reading(readsOf(v, i), (solved) => {
        const across = v(solved);
        const into = i(solved);
        if (across === undefined || into === undefined) return undefined;
        return into > NO_CURRENT ? across / into : Number.POSITIVE_INFINITY;
      });
    },
  };
}

/** Amperes below which a loop counts as open: far under any leakage that a site could show. */
const NO_CURRENT = 1e-15;

/** Ohms that a meter shows which drives its own current through what it is joined to. */
export function meterGauge(island: Island, meter: Element): Gauge {
  const volts = voltsGauge(island, meter.a, meter.b);
  const at = island.elements.indexOf(meter);
  return {
    name: `meter${at}`,
    measure: (circuit) => {
      const across = volts.measure(circuit);
      const law = circuit.lawOf[at]!;
      return (solved) => {
        const driven = -solved.amps[law]!;
        return driven > NO_CURRENT ? (across(solved) ?? 0) / driven : Number.POSITIVE_INFINITY;
      };
    },
  };
}
