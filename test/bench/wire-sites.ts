/** Workspaces on the disk for measurements over the wire: 100 files, 50,000 lines, one file of 1,000 lines to be edited. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { generateSite } from './generate.ts';

/** `one`: a single site of all files. `many`: sites of two files each. */
export type Shape = 'one' | 'many';

export interface Laid {
  readonly files: number;
  readonly lines: number;
  /** The file that is edited, by its path in the folder. */
  readonly edited: string;
  readonly text: string;
}

const COUPLINGS = 2380;
const FILES = 100;

/** Couplings of the file that is edited: 1,008 lines. */
const EDITED_COUPLINGS = 48;

/** Couplings of a site of two files. */
const SMALL_SITE = 48;

/**
 * @param unresolved files besides the edited one in which one name of each coupling is not known.
 * @param count how many files; the lines go with them.
 */
export function layWorkspace(folder: string, shape: Shape, unresolved = 0, count = FILES): Laid {
  const files = shape === 'one' ? oneSite(count) : manySites(count);
  let spoilt = 0;
  let lines = 0;
  let edited: { path: string; text: string } | undefined;
  for (const { path, text, edit } of files) {
    const spoil = edit !== true && spoilt < unresolved && text.includes('wire level');
    if (spoil) spoilt += 1;
    const written = spoil ? text.replaceAll(/(wire panel\d+\.Z4 -- W\d+\.)GN/g, '$1OG') : text;
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), written);
    lines += written.split('\n').length - 1;
    if (edit === true) edited = { path, text: written };
  }
  if (edited === undefined || spoilt < unresolved) throw new Error('the workspace is not as it was asked for');
  return { files: files.length, lines, edited: edited.path, text: edited.text };
}

interface File {
  readonly path: string;
  readonly text: string;
  readonly edit?: boolean;
}

function oneSite(fileCount: number): File[] {
  const all = Math.round((COUPLINGS * fileCount) / FILES);
  const [site, types, ...couplings] = generateSite(all, all);
  const texts = couplings.map(({ text }) => text);
  const parts = [texts.slice(0, EDITED_COUPLINGS)];
  const others = texts.slice(EDITED_COUPLINGS);
  const count = fileCount - 3;
  for (let i = 0; i < count; i += 1) {
    parts.push(others.slice(Math.floor((i * others.length) / count), Math.floor(((i + 1) * others.length) / count)));
  }
  const uses = ['types.couplet', ...parts.map((_, i) => `part${i}.couplet`)].map((name) => `use "${name}"\n`).join('');
  return [
    {
      path: 'site.couplet',
      text: site!.text.replaceAll(/use "part\d+\.couplet"\n/g, '').replace('use "types.couplet"\n', uses),
    },
    { path: 'types.couplet', text: types!.text },
    ...parts.map((part, i) => ({ path: `part${i}.couplet`, text: part.join(''), edit: i === 0 })),
  ];
}

function manySites(fileCount: number): File[] {
  return Array.from({ length: fileCount / 2 }, (_, n) => {
    const [site, types, ...couplings] = generateSite(SMALL_SITE, SMALL_SITE);
    const head = site!.text
      .replaceAll(/use "(part\d+|types)\.couplet"\n/g, '')
      .replace('"Generated" { blind: 144 }\n', `"Generated ${n}" { blind: 144 }\n\nuse "part.couplet"\n`);
    return [
      { path: `site${n}/site.couplet`, text: head + types!.text },
      {
        path: `site${n}/part.couplet`,
        text: couplings.map(({ text }) => text).join(''),
        edit: n === Math.floor(fileCount / 4),
      },
    ];
  }).flat();
}
