/** Figures beside components, where they are declared: the one that says most of a part of each kind. */
import { type Component, type Dimension, type Figure, formatFigure, type Moment } from '@couplet/engine';
import type { Coupled } from '@couplet/project';
import type { InlayHint, Position, Range } from 'vscode-languageserver';
import type { CheckedSite, Sites } from '../sites/seam.ts';

interface Said {
  /** 'at most 521 mA in high-water' */
  readonly word: string;
  figure(moment: Moment): Figure;
}

type Say<K extends Component['kind']> = (part: Extract<Component, { kind: K }>) => Said;

const amps = (part: Component): Said => ({ word: 'current', figure: (moment) => moment.amps(part.id) });

/** Kinds without an entry show nothing. */
const SAY: { readonly [K in Component['kind']]?: Say<K> } = {
  load: amps,
  fuse: amps,
  source: amps,
  relay: (part) => ({ word: 'coil volts', figure: (moment) => moment.volts(part.coil.a, part.coil.b) }),
  resistor: (part) => ({ word: 'power', figure: (moment) => moment.watts(part.id) }),
  diode: amps,
  capacitor: (part) => ({ word: 'volts', figure: (moment) => moment.volts(part.a, part.b) }),
};

/** Hints of a file between the lines of `range`, at the ends of the names that parts are declared by. */
export function figureHints(sites: Sites | undefined, uri: string, range: Range, nameEnd: NameEnd): InlayHint[] {
  const hints = new Map<string, InlayHint>();
  for (const site of sites?.sitesOf(uri) ?? []) {
    for (const part of site.design.components) {
      const say = SAY[part.kind] as Say<Component['kind']> | undefined;
      if (say === undefined || isMember(part, site)) continue;
      const place = site.place(part.origin);
      if (place?.uri !== uri || place.start.line < range.start.line || place.start.line > range.end.line) continue;
      const position = nameEnd(place.start, part.name);
      const most = position && greatest(site.analyses.at(part.id), say);
      if (position === undefined || most === undefined) continue;
      hints.set(`${position.line} ${position.character}`, { position, paddingLeft: true, ...most });
    }
  }
  return [...hints.values()];
}

/** Where the name ends that a part is declared by, for the place of its declaration. */
export type NameEnd = (start: Position, name: string) => Position | undefined;

/** Members of units and cores of cables stand in types and bodies, away from where they are used. */
function isMember({ owner }: Component, { design }: CheckedSite): boolean {
  const kind = owner === undefined ? undefined : design.components[owner]?.kind;
  return kind === 'unit' || kind === 'cable';
}

function greatest(
  { analysis, id, part }: Coupled,
  say: Say<Component['kind']>,
): Pick<InlayHint, 'label' | 'tooltip'> | undefined {
  const { figure, word } = say(part as never);
  let best:
    | { readonly size: number; readonly usual: number; readonly unit: string; readonly where: string }
    | undefined;
  for (const { moments, name } of analysis.casesOf(id)) {
    for (const moment of moments) {
      const value = figure(moment);
      if (value.sort !== 'value' || !Number.isFinite(value.usual)) continue;
      const size = Math.abs(value.usual);
      if (best !== undefined && size <= best.size) continue;
      best = { size, usual: value.usual, unit: value.unit, where: `${name}, ${moment.label}` };
    }
  }
  if (best === undefined) return undefined;
  return { label: formatFigure(best.usual, best.unit as Dimension), tooltip: `Greatest usual ${word}: ${best.where}` };
}
