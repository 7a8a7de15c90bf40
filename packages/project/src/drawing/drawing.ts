/** The drawing of one coupling at one moment, from a site that was computed. */
import type { Analysis, CaseAnalysis, Design, Origin } from '@couplet/engine';
import type { CaseChoice, CouplingChoice, Drawing, SourceRange } from './contract.ts';
import { type Coupling, couplingsIn } from './couplings.ts';
import { figuresOf } from './figures.ts';
import { type Shaped, shapeOf } from './shape.ts';

/** What a drawing is made of: a checked site. */
export interface DrawnSite {
  readonly design: Design;
  readonly analysis: Analysis;
  place(origin: Origin): SourceRange | undefined;
}

/** What is wanted; whatever is left out or does not exist any more is chosen. */
export interface DrawingWish {
  /** Id of a coupling; the first one unless given. */
  readonly coupling?: string;
  /** Name of a case; rest unless given. */
  readonly case?: string;
  /** Number of a moment of it; unless given the first at which anything is other than at rest. */
  readonly moment?: number;
}

const KEPT = new WeakMap<Design, Map<string, Shaped>>();

/** The couplings of a site, in the order of its parts. */
export function couplingsOf({ design }: Pick<DrawnSite, 'design'>): readonly CouplingChoice[] {
  return couplingsIn(design).map(({ id, title }) => ({ id, title }));
}

/** Nothing where nothing of the site is wired. Never throws on what a user wrote. */
export function drawingOf(site: DrawnSite, wish: DrawingWish = {}): Drawing | undefined {
  const { analysis, design } = site;
  const couplings = couplingsIn(design);
  const coupling = couplings.find(({ id }) => id === wish.coupling) ?? couplings[0];
  const shown = analysis.cases.find(({ name }) => name === wish.case) ?? analysis.cases[0];
  if (coupling === undefined || shown === undefined) return undefined;
  const number = momentOf(shown, wish.case === shown.name ? wish.moment : undefined);
  const moment = shown.moments[number];
  if (moment === undefined) return undefined;
  const shaped = shapedOf(site, coupling);
  return {
    site: design.site.title,
    coupling: coupling.id,
    couplings: couplingsOf(site),
    case: shown.name,
    moment: number,
    cases: caseChoicesOf(site),
    shape: shaped.shape,
    figures: figuresOf(design, shaped, moment),
  };
}

/** The cases of a site, rest first. */
export function caseChoicesOf({ analysis }: Pick<DrawnSite, 'analysis'>): readonly CaseChoice[] {
  return analysis.cases.map(choiceOf);
}

/** A coupling that a part is drawn in, by the name of any part of it: for 'show me where I am'. */
export function couplingWith({ design }: Pick<DrawnSite, 'design'>, name: string): string | undefined {
  const wanted = design.components.filter((part) => part.name === name).map(({ id }) => id);
  const owned = design.components
    .filter(({ owner }) => owner !== undefined && wanted.includes(owner))
    .map(({ id }) => id);
  return couplingsIn(design).find(({ components }) => [...wanted, ...owned].some((id) => components.has(id)))?.id;
}

function momentOf({ moments }: CaseAnalysis, wanted: number | undefined): number {
  if (wanted !== undefined && Number.isInteger(wanted) && wanted >= 0 && wanted < moments.length) return wanted;
  const first = moments.findIndex((each) => {
    const affected = each.affected();
    return affected !== 'all' && affected.size > 0;
  });
  return Math.max(first, 0);
}

function choiceOf({ case: written, moments, name }: CaseAnalysis): CaseChoice {
  return {
    name,
    ...(written?.description === undefined ? {} : { description: written.description }),
    moments: moments.map(({ label, time }) => ({ time: Number.isFinite(time) ? time : 0, label })),
  };
}

function shapedOf({ design, place }: DrawnSite, coupling: Coupling): Shaped {
  let shapes = KEPT.get(design);
  if (shapes === undefined) {
    shapes = new Map();
    KEPT.set(design, shapes);
  }
  let shaped = shapes.get(coupling.id);
  if (shaped === undefined) {
    shaped = shapeOf(design, coupling, place);
    shapes.set(coupling.id, shaped);
  }
  return shaped;
}
