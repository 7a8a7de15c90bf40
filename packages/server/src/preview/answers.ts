/** What the preview shows of the sites of the last complete pass. Where there is nothing to show, a sentence says why. */
import { type Drawing, drawingOf } from '@couplet/project';
import type { CheckedSite, Sites } from '../sites/seam.ts';
import type { Answer, Choices, PreviewParams, Unread } from './protocol.ts';
import { drawnSite, type Sheet, sheetAt, sheetsOf } from './sheets.ts';

export const REST = 'rest';

const NOTHING_WIRED = 'Nothing of this site is wired yet: a drawing begins with a wire.';

const NO_SITE =
  'This file belongs to no site, and nothing is wired in it: a site is a file with a `site` statement, and the files that it uses.';

export function drawingAnswer(sites: Sites | undefined, params: PreviewParams): Answer<Drawing> {
  return onSheet(sites, params, ({ choices, sheet, site, unread }) => {
    const drawing = drawingOf(drawnSite(site, sheet.coupling), { ...params, coupling: sheet.id });
    if (drawing === undefined) return nothing(NOTHING_WIRED, choices, unread);
    const { cases, moment } = drawing;
    const { couplings } = choices;
    return {
      sort: 'shown',
      choices: { ...choices, cases, case: drawing.case, moment },
      unread,
      data: { ...drawing, site: site.title, couplings },
    };
  });
}

export interface Found {
  readonly site: CheckedSite;
  readonly sheet: Sheet;
  readonly choices: Choices;
  readonly unread?: Unread;
}

/** The site of a file that is asked for by its root; the one that begins with the file, or the first, unless given. */
export function siteOf(sites: Sites | undefined, uri: string, root?: string): CheckedSite | undefined {
  const concerned = sites?.sitesOf(uri) ?? [];
  return concerned.find((each) => each.root === root) ?? concerned.find((each) => each.root === uri) ?? concerned[0];
}

/** The sheet that is asked for, or the sentence that there is none. */
export function onSheet<T>(
  sites: Sites | undefined,
  { case: wanted, coupling, position, root, uri }: PreviewParams,
  answer: (found: Found) => Answer<T>,
): Answer<T> {
  const concerned = sites?.sitesOf(uri) ?? [];
  const site = siteOf(sites, uri, root);
  if (site === undefined) {
    return nothing(NO_SITE);
  }
  const sheets = sheetsOf(site);
  const pointed = position === undefined ? undefined : sheetAt(site, sheets, uri, position);
  const sheet = pointed ?? sheets.find(({ id }) => id === coupling) ?? sheets[0];
  const unread = unreadOf(site);
  const choices: Choices = {
    sites: concerned.map((each) => ({ root: each.root, title: each.title })),
    root: site.root,
    files: site.files,
    couplings: sheets.map(({ id, title }) => ({ id, title })),
    coupling: sheet?.id,
    cases: [],
    case: wanted ?? REST,
    moment: 0,
  };
  if (sheet === undefined) {
    return nothing(site.design.fragment ? NO_SITE : NOTHING_WIRED, choices, unread);
  }
  return answer({ site, sheet, choices, unread });
}

export function nothing<T>(because: string, choices?: Choices, unread?: Unread): Answer<T> {
  return { sort: 'nothing', because, choices, unread };
}

/** What does not even follow the syntax, and so is missing from the design. */
function unreadOf({ findings }: CheckedSite): Unread | undefined {
  const errors = findings.filter(({ code }) => code === 'syntax-error');
  const [first] = errors;
  if (first === undefined) return undefined;
  const { end, start, uri } = first.place;
  return { count: errors.length, message: first.message, place: { uri, start, end } };
}
