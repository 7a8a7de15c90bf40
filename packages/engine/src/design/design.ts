/** A whole site as plain data: what the language lowers to and the engine computes on. */
import type { Acceptance, Autonomy, Case, Reading } from './cases.ts';
import type { Component, ComponentId, PlaceId, TerminalId } from './components.ts';
import type { Choice, Datum, Origin } from './datum.ts';

/** Somewhere on site. `ambient` in °C. */
export interface Place {
  readonly id: PlaceId;
  readonly name: string;
  readonly description?: string;
  readonly ambient?: Datum;
  readonly wet?: Choice;
  readonly origin: Origin;
}

export interface Terminal {
  readonly id: TerminalId;
  /** `K1.A1`, `level.V12`, `W1.GN.pit`; a joint has its own name alone. */
  readonly name: string;
  readonly component: ComponentId;
  readonly place?: PlaceId;
  readonly origin: Origin;
}

/** Two terminals made one by a wire or a bond; `origin` is the stretch of the chain between them. */
export interface Join {
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly origin: Origin;
  readonly bond?: { readonly because: string };
}

/** Understood but not computed: one for each file and kind of thing. */
export interface Uncomputed {
  /** 'confirm', 'follows' … */
  readonly what: string;
  readonly origin: Origin;
}

export interface SiteFacts {
  readonly title: string;
  readonly origin: Origin;
  /** °C, for places that do not say. */
  readonly ambient?: Datum;
  /** How many blind service faults and blind fitting errors the site tolerates. */
  readonly blind?: Datum;
  readonly blindFitting?: Datum;
  /** Thresholds set by the author, SI or a fraction, by rule. */
  readonly limits: readonly {
    readonly rule: string;
    readonly value: number;
    readonly dimension: string;
    readonly origin: Origin;
  }[];
}

export interface Design {
  readonly site: SiteFacts;
  /** A file without `site` that no site uses: its open ends are not findings. */
  readonly fragment: boolean;
  readonly places: readonly Place[];
  readonly terminals: readonly Terminal[];
  readonly components: readonly Component[];
  readonly joins: readonly Join[];
  /** Terminals that are earth itself. */
  readonly earth?: TerminalId;
  readonly cases: readonly Case[];
  readonly autonomies: readonly Autonomy[];
  readonly acceptances: readonly Acceptance[];
  readonly readings: readonly Reading[];
  /** Terminals, cores and poles left open on purpose. */
  readonly spare: readonly TerminalId[];
  readonly uncomputed: readonly Uncomputed[];
}
