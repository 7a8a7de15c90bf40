/** `couplet sheet`: the paper that goes to site, with every predicted value beside its blank. */
import { writeFile } from 'node:fs/promises';
import { extname, resolve } from 'node:path';
import { csvSheet, htmlSheet, markdownSheet, type Sheet, siteSheet } from '@couplet/documents';
import { type CheckedSite, checkSites } from '@couplet/project';
import { diskReader, shownPath } from '../disk.ts';
import { optionValue, UsageError } from '../options.ts';
import { EXIT, type Verb } from '../verb.ts';
import { readInputs } from './inputs.ts';
import { PATH_OPTIONS, today } from './sites.ts';

/** One row a format, by the ending of the file that is written. */
const FORMATS: Readonly<Record<string, (sheet: Sheet) => string>> = {
  '.html': htmlSheet,
  '.md': markdownSheet,
  '.csv': csvSheet,
};

export const sheet: Verb = {
  name: 'sheet',
  takes: 'PATH',
  says: 'write the schedules and test sheets of a site, predicted values beside their blanks',
  options: [
    { name: 'out', short: 'o', takes: 'FILE', says: `the file that is written (${Object.keys(FORMATS).join(', ')})` },
    { name: 'today', takes: 'DATE', says: 'the date on the sheet, by which acceptances are judged' },
    ...PATH_OPTIONS,
  ],
  more: ['Without --out the sheet is written to standard output as Markdown.'],

  async run(invocation, terminal) {
    const { options, words } = invocation;
    const out = optionValue(invocation, 'out');
    const write = FORMATS[out === undefined ? '.md' : extname(out).toLowerCase()];
    if (write === undefined) throw new UsageError(`'${out}' ends in none of ${Object.keys(FORMATS).join(', ')}`);
    const date = today(invocation);
    const skip = options.get('skip') ?? [];
    const inputs = await readInputs({
      paths: words,
      skip,
      workspace: optionValue(invocation, 'workspace'),
      from: terminal.folder,
    });
    const sites: CheckedSite[] = [];
    for (const { around, files, folder } of inputs) {
      for await (const site of checkSites({ reader: diskReader, folder }, files, { today: date, around })) {
        if (!site.fragment) sites.push(site);
      }
    }
    const [site, ...others] = sites;
    if (site === undefined)
      throw new UsageError("name the file or folder of a site: 'couplet sheet PATH --out FILE.html'");
    if (others.length > 0) {
      const names = sites.map(({ root }) => shownPath(root, terminal.folder)).join(', ');
      throw new UsageError(`a sheet is of one site, and these are ${sites.length}: ${names}`);
    }
    const text = write(
      siteSheet({
        design: site.design,
        analysis: site.analysis,
        findings: site.findings,
        about: [
          ['File', shownPath(site.root, terminal.folder)],
          ['Predicted on', date],
        ],
      }),
    );
    if (out === undefined) terminal.out(text);
    else {
      try {
        await writeFile(resolve(terminal.folder, out), text);
      } catch (error) {
        throw new UsageError(`'${out}' cannot be written: ${(error as NodeJS.ErrnoException).code}`);
      }
    }
    return EXIT.fine;
  },
};
