/** What a coupling is called: from what drives it to what reads it. */
import type { Component, ComponentKind, Design } from '@couplet/engine';

/** Names that are listed; the rest is counted. */
const MOST_NAMES = 3;

/** What is told of first, by kind. */
const READERS: readonly ComponentKind[] = ['zone', 'input'];
const DRIVEN: readonly ComponentKind[] = ['load'];
const FED: readonly ComponentKind[] = ['feed', 'relay'];
const FEEDS: readonly ComponentKind[] = ['source'];

/** `first` is the name that stays while others come and go: that of the first reader, else of what is told of first. */
export function titleOf(
  parts: readonly Component[],
  design: Design,
): { readonly first: string; readonly title: string } {
  const of = (kinds: readonly ComponentKind[]) =>
    parts.filter(({ kind }) => kinds.includes(kind)).map(({ name }) => name);
  const drivers = [...new Set(parts.flatMap((part) => driverName(part, design) ?? []))];
  const readers = of(READERS);
  const driven = of(DRIVEN);
  const ends = readers.length > 0 ? [...readers, ...driven] : driven;
  const first = ends[0] ?? drivers[0] ?? of(FED)[0] ?? of(FEEDS)[0] ?? parts[0]?.name ?? 'wires';
  if (ends.length > 0 && drivers.length > 0) return { first, title: `${listed(drivers)} to ${listed(ends)}` };
  if (ends.length > 0) return { first, title: listed(ends) };
  if (drivers.length > 0) return { first, title: listed(drivers) };
  const [fed, feeds] = [of(FED), of(FEEDS)];
  if (fed.length > 0 && feeds.length > 0) return { first, title: `${listed(feeds)} to ${listed(fed)}` };
  const told = [...feeds, ...fed];
  return { first, title: listed(told.length > 0 ? told : parts.map(({ name }) => name)) };
}

function driverName(part: Component, design: Design): string | undefined {
  if (part.kind === 'output') return part.name;
  if (part.kind !== 'contact') return undefined;
  const driver = design.components[part.driver];
  return driver?.kind === 'actuator' || driver?.kind === 'switch' ? driver.name : undefined;
}

function listed(names: readonly string[]): string {
  if (names.length <= MOST_NAMES + 1) return names.join(', ');
  return `${names.slice(0, MOST_NAMES).join(', ')} and ${names.length - MOST_NAMES} more`;
}
