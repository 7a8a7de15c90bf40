/** The analyses of a site's couplings, computed when they are asked for: a large site is never solved whole for one figure. */
import {
  type Analysis,
  analyse,
  type Component,
  type ComponentId,
  type Coupling,
  type Design,
  inWhole,
  type Verdict,
} from '@couplet/engine';

/** A part among those that it is coupled to. */
export interface Coupled {
  readonly coupling: Coupling;
  /** Of the coupling's own design. */
  readonly analysis: Analysis;
  /** The part in the numbers of that design. */
  readonly id: ComponentId;
  readonly part: Component;
}

/** Analyses that are kept at a time: what a person looks at is in few couplings. */
const KEPT = 32;

export class Analyses {
  readonly design: Design;
  readonly couplings: readonly Coupling[];
  private readonly made = new Map<Coupling, Analysis>();
  private places: { readonly coupling: Int32Array; readonly id: Int32Array } | undefined;
  private ofWhole: Analysis | undefined;

  constructor(design: Design, couplings: readonly Coupling[]) {
    this.design = design;
    this.couplings = couplings;
  }

  /** The coupling that a component is in, and the component's number there. */
  couplingOf(component: ComponentId): { readonly coupling: Coupling; readonly id: ComponentId } {
    this.places ??= this.find();
    return { coupling: this.couplings[this.places.coupling[component]!]!, id: this.places.id[component]! };
  }

  /** The analysis of the coupling that a component is in. */
  at(component: ComponentId): Coupled {
    const { coupling, id } = this.couplingOf(component);
    const analysis = this.of(coupling);
    return { coupling, analysis, id, part: analysis.design.components[id]! };
  }

  of(coupling: Coupling): Analysis {
    const known = this.made.get(coupling);
    return this.keep(coupling, known ?? analyse(coupling.toDesign()));
  }

  /** How a case (an index into those of the design) came out in every coupling that it asks something of. */
  verdictsOf(index: number): readonly Verdict[] {
    return this.couplings.flatMap((coupling) => {
      const at = coupling.cases.indexOf(index);
      if (at < 0) return [];
      const analysis = this.of(coupling);
      const written = analysis.design.cases[at];
      const played = analysis.cases.find((each) => each.case === written && each.onBattery === undefined);
      return (played?.verdicts ?? []).map((verdict) => inWhole(coupling, verdict));
    });
  }

  /** Keeps an analysis that was made for another purpose, while there is room. */
  keep(coupling: Coupling, analysis: Analysis): Analysis {
    this.made.delete(coupling);
    this.made.set(coupling, analysis);
    const [oldest] = this.made.keys();
    if (this.made.size > KEPT && oldest !== undefined) this.made.delete(oldest);
    return analysis;
  }

  /** Of the whole design in one piece, in its own numbers: for tables of everything. */
  get whole(): Analysis {
    this.ofWhole ??= analyse(this.design);
    return this.ofWhole;
  }

  private find() {
    const coupling = new Int32Array(this.design.components.length);
    const id = new Int32Array(this.design.components.length);
    this.couplings.forEach(({ components }, index) => {
      components.forEach((component, at) => {
        coupling[component] = index;
        id[component] = at;
      });
    });
    return { coupling, id };
  }
}
