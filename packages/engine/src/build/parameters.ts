/**
 * What can lie anywhere between its least and its most: a part's datum, the ambient of a place, the ohms of a cable.
 * Figures are extreme over all of them together.
 */
import type { ComponentId, PlaceId } from '../design/components.ts';
import type { Datum } from '../design/datum.ts';
import type { Design } from '../design/design.ts';

export interface Parameter {
  /** The same key is the same cause wherever it appears. */
  readonly key: string;
  /** For corners: 'level.V12', 'RE', 'pit ambient'. */
  readonly what: string;
  readonly unit: string;
  readonly least: number;
  readonly usual: number;
  readonly most: number;
  readonly assumption?: string;
  /** What a corner shows for a value, where the value itself means nothing to a reader. */
  readonly shown?: (value: number) => number;
}

export function hasSpread(parameter: Pick<Datum, 'least' | 'most'>): boolean {
  return parameter.least !== parameter.most;
}

/** The value at `t`: −1 is least, 0 usual, +1 most, straight lines between. */
export function valueAt(parameter: Pick<Datum, 'least' | 'usual' | 'most'>, t: number): number {
  if (t === 0) return parameter.usual;
  if (t === 1) return parameter.most;
  if (t === -1) return parameter.least;
  return t < 0
    ? parameter.usual + t * (parameter.usual - parameter.least)
    : parameter.usual + t * (parameter.most - parameter.usual);
}

const ROOM: Datum = {
  least: 20,
  usual: 20,
  most: 20,
  origin: -1,
  assumption: 'ambient not given, taken as 20 °C',
};

/** Gives each cause one parameter, made when it is first asked for. `nominal` ones stay at their usual figure. */
export class Parameters {
  private readonly known = new Map<string, Parameter>();
  /** Those of single parts by component, so that nobody puts a key together to find one. */
  private readonly ofPart: { readonly property: string; readonly parameter: Parameter }[][] = [];
  private readonly design: Design;
  private readonly nominal: boolean;

  constructor(design: Design, nominal = false) {
    this.design = design;
    this.nominal = nominal;
  }

  /** One number of one part. */
  of(component: ComponentId, property: string, datum: Datum, unit: string, what?: string): Parameter {
    this.ofPart[component] ??= [];
    const own = this.ofPart[component];
    for (const one of own) if (one.property === property) return one.parameter;
    const key = `${component}.${property}`;
    const parameter = this.keep(key, () =>
      this.made(key, what ?? this.design.components[component]!.name, unit, datum),
    );
    own.push({ property, parameter });
    return parameter;
  }

  /** A number that was computed elsewhere; equal spreads are the same parameter. */
  computed(key: string, what: string, unit: string, spread: Pick<Datum, 'least' | 'usual' | 'most'>): Parameter {
    return this.keep(key, () => ({ key, what, unit, least: spread.least, usual: spread.usual, most: spread.most }));
  }

  /** °C around a part. */
  ambient(place: PlaceId | undefined): Parameter {
    const known = place === undefined ? undefined : this.design.places[place];
    const datum = known?.ambient ?? this.design.site.ambient;
    if (known === undefined || known.ambient === undefined) {
      return this.keep('site.ambient', () => this.made('site.ambient', 'ambient', 'degC', datum ?? ROOM));
    }
    const key = `place${place}.ambient`;
    return this.keep(key, () => this.made(key, `${known.name} ambient`, 'degC', known.ambient!));
  }

  /** °C along a cable: anything between the coldest and the warmest of the places it joins. */
  cableAmbient(cable: ComponentId): Parameter {
    const key = `${cable}.ambient`;
    return this.keep(key, () => {
      const part = this.design.components[cable]!;
      const places = part.kind === 'cable' ? part.ends : [];
      const ends = places.length === 0 ? [this.ambient(undefined)] : places.map((place) => this.ambient(place));
      const least = Math.min(...ends.map((end) => end.least));
      const most = Math.max(...ends.map((end) => end.most));
      const usual = least <= 20 && 20 <= most ? 20 : ends.reduce((sum, end) => sum + end.usual, 0) / ends.length;
      const assumption = ends.find((end) => end.assumption !== undefined)?.assumption;
      const what = `${part.name} ambient`;
      return { key, what, unit: 'degC', least, usual, most, ...(assumption === undefined ? {} : { assumption }) };
    });
  }

  /** Where a cable's ohms lie in their spread, shared by its cores: a number from −1 (least) to +1 (most). */
  cableOhms(cable: ComponentId, core: Datum): Parameter {
    const key = `${cable}.ohms`;
    const shown = (t: number) => valueAt(core, t);
    const what = `${this.design.components[cable]!.name} core`;
    return this.keep(key, () => ({ key, what, unit: 'ohm', least: -1, usual: 0, most: 1, shown }));
  }

  private keep(key: string, make: () => Parameter): Parameter {
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const spread = make();
    const made = this.nominal ? { ...spread, least: spread.usual, most: spread.usual } : spread;
    this.known.set(key, made);
    return made;
  }

  private made(key: string, what: string, unit: string, datum: Datum): Parameter {
    const { least, usual, most, assumption } = datum;
    return { key, what, unit, least, usual, most, ...(assumption === undefined ? {} : { assumption }) };
  }
}
