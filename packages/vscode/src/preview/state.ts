/** What the page remembers across reloads of the window, and how it is read back. */
import type { View } from './view.ts';

export const SECTIONS = ['drawing', 'time', 'bands', 'battery'] as const;

export type Section = (typeof SECTIONS)[number];

export interface PageState {
  readonly uri?: string;
  /** The site, by its first file, where the file belongs to several. */
  readonly root?: string;
  readonly section: Section;
  /** By name, so that they are found again after an edit. */
  readonly coupling?: string;
  readonly caseName?: string;
  /** Index of the moment within the case; the case's own choice unless set. */
  readonly moment?: number;
  readonly figures: boolean;
  /** The readings with single faults, too. */
  readonly faults: boolean;
  /** All of the drawing, or a part of it; as much as can be read unless set. */
  readonly view?: View | 'all';
}

export const FIRST_STATE: PageState = { section: 'drawing', figures: true, faults: false };

/** What was kept, as far as it is of use: it may come from another version of the extension. */
export function restored(kept: unknown): PageState {
  if (typeof kept !== 'object' || kept === null) return FIRST_STATE;
  const { caseName, coupling, faults, figures, moment, root, section, uri, view } = kept as Record<string, unknown>;
  return {
    section: SECTIONS.find((each) => each === section) ?? FIRST_STATE.section,
    figures: typeof figures === 'boolean' ? figures : FIRST_STATE.figures,
    faults: typeof faults === 'boolean' ? faults : FIRST_STATE.faults,
    ...(typeof uri === 'string' ? { uri } : {}),
    ...(typeof root === 'string' ? { root } : {}),
    ...(typeof coupling === 'string' ? { coupling } : {}),
    ...(typeof caseName === 'string' ? { caseName } : {}),
    ...(typeof moment === 'number' && Number.isInteger(moment) && moment >= 0 ? { moment } : {}),
    ...(isView(view) ? { view } : {}),
  };
}

/** The state for another file: what was chosen in one site says nothing of another. */
export function forFile(state: PageState, uri: string): PageState {
  if (state.uri === uri) return state;
  return { uri, section: state.section, figures: state.figures, faults: state.faults };
}

function isView(value: unknown): value is View | 'all' {
  if (value === 'all') return true;
  if (typeof value !== 'object' || value === null) return false;
  const { scale, x, y } = value as Record<string, unknown>;
  return [x, y, scale].every((each) => Number.isFinite(each)) && (scale as number) > 0;
}
