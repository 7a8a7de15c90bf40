/**
 * The page of the preview: what is chosen, what the server says of it, and the section that shows it. A picture that was
 * right stays, dimmed and with a note, while the text cannot be read; where there is none, a sentence says why.
 */
import type { Askable, Point, ToPage } from '../preview/messages.ts';
import { forFile, type PageState, restored, type Section } from '../preview/state.ts';
import type { Answer, Choices, Pointed, Unread } from './answers.ts';
import { Picker, Switch, Tabs } from './bar.ts';
import { make } from './dom.ts';
import { DrawingSection } from './drawing-section.ts';
import type { Host } from './host.ts';
import { BANDS, BATTERY, PlotSection, TIME } from './plot-sections.ts';

/** What a section asks for, and which of the choices it heeds. */
const ASKS: Readonly<Record<Section, { readonly what: Askable; readonly heeds: readonly Heeded[] }>> = {
  drawing: { what: 'drawing', heeds: ['coupling', 'case', 'moment', 'figures'] },
  time: { what: 'timeLine', heeds: ['coupling', 'case'] },
  bands: { what: 'bands', heeds: ['coupling', 'faults'] },
  battery: { what: 'runtime', heeds: [] },
};

type Heeded = 'coupling' | 'case' | 'moment' | 'figures' | 'faults';

/** What is on show, and of which choice. */
interface Shown {
  readonly key: string;
  readonly isWhole: boolean;
}

interface Showing {
  readonly element: HTMLElement;
  show(data: unknown): void | Promise<void>;
}

export class App {
  private readonly root: HTMLElement;
  private readonly host: Host;
  private state: PageState;
  private choices: Choices | undefined;
  private shown: Shown | undefined;

  private readonly tabs = new Tabs((section) => this.choose({ section }));
  private readonly site = new Picker('Site', (root) => this.choose({ root, coupling: undefined, view: undefined }));
  private readonly coupling = new Picker('Coupling', (coupling) => this.choose({ coupling, view: undefined }));
  private readonly case = new Picker('Case', (caseName) => this.choose({ caseName, moment: undefined }));
  private readonly moment = new Picker('Moment', (moment) => this.choose({ moment: Number(moment) }));
  private readonly figures = new Switch('Figures', (figures) => {
    this.keep({ figures });
    void this.drawing.redraw(figures);
  });
  private readonly faults = new Switch('Single faults', (faults) => this.choose({ faults }));
  private readonly note = make('div', { class: 'notice', attributes: { role: 'status' } });
  private readonly body = make('div', { class: 'body', attributes: { role: 'tabpanel', id: 'section' } });
  private readonly drawing: DrawingSection;
  private readonly sections: Readonly<Record<Section, Showing>>;

  constructor(root: HTMLElement, host: Host) {
    this.root = root;
    this.host = host;
    this.state = restored(host.kept);
    this.drawing = new DrawingSection({
      onPicked: (place) => host.reveal(place),
      onView: (view) => this.keep({ view }),
    });
    const reveal = host.reveal.bind(host);
    this.sections = {
      drawing: this.drawing,
      time: new PlotSection(TIME, reveal),
      bands: new PlotSection(BANDS, reveal),
      battery: new PlotSection(BATTERY, reveal),
    };
  }

  start(): void {
    const picks = [this.site, this.coupling, this.case, this.moment, this.figures, this.faults];
    const bar = make('div', { class: 'bar' }, ...picks.map(({ element }) => element));
    this.root.replaceChildren(this.tabs.element, bar, this.note, this.body);
    this.showSection();
    this.say('Waiting for the language server.');
    this.host.listen((message) => this.hear(message));
  }

  private hear(message: Exclude<ToPage, { type: 'answer' | 'failed' }>): void {
    if (message.type === 'checked') void this.refresh();
    else if (message.type === 'cursor') void this.follow(message.uri, message.position);
    else if (message.uri === undefined) this.say('Open a file of the language, and the drawing of its site is here.');
    else {
      const { position, uri } = message;
      // After a reload the coupling that was looked at comes before that of the cursor.
      const isElsewhere = this.state.coupling === undefined || uri !== this.state.uri;
      const isSameSite = this.choices?.files.includes(uri) ?? false;
      this.state = isSameSite ? { ...this.state, uri } : forFile(this.state, uri);
      this.host.keep(this.state);
      void this.refresh();
      if (position !== undefined) void this.follow(uri, position, isElsewhere);
    }
  }

  /** Another choice of the reader. */
  private choose(change: Partial<PageState>): void {
    const isOther = change.section !== undefined && change.section !== this.state.section;
    this.keep(change);
    if (isOther) {
      this.shown = undefined;
      this.say('Computing.');
    }
    this.showSection();
    void this.refresh();
  }

  private keep(change: Partial<PageState>): void {
    this.state = { ...this.state, ...change };
    this.host.keep(this.state);
  }

  private async refresh(): Promise<void> {
    const { caseName, coupling, faults, moment, root, section, uri } = this.state;
    if (uri === undefined) return;
    try {
      const params = { uri, root, coupling, case: caseName, moment, faults };
      const answer = await this.host.ask<Answer<unknown>>(ASKS[section].what, params);
      if (section === this.state.section && uri === this.state.uri) await this.take(answer);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      this.dim(`The language server does not answer: ${reason}`);
    }
  }

  private async take(answer: Answer<unknown>): Promise<void> {
    const { choices, unread } = answer;
    const key = this.keyOf(choices);
    if (unread !== undefined && this.shown?.isWhole && (key === this.shown.key || answer.sort === 'nothing')) {
      this.dim(`${unreadWords(unread, this.state.uri)} What is shown was computed before.`);
      return;
    }
    this.choices = choices;
    this.offer();
    if (answer.sort === 'nothing') {
      this.shown = undefined;
      this.say(unread === undefined ? answer.because : `${unreadWords(unread, this.state.uri)} ${answer.because}`);
      return;
    }
    // From now on the reader looks at this one, whatever is written before it.
    if (this.state.coupling === undefined) this.keep({ coupling: choices?.coupling });
    if (this.state.section === 'drawing') this.drawing.prepare({ figures: this.state.figures, view: this.state.view });
    await this.sections[this.state.section].show(answer.data);
    this.shown = { key, isWhole: unread === undefined };
    this.body.classList.remove('dimmed');
    this.put(this.sections[this.state.section].element);
    this.noteText(unread === undefined ? '' : `${unreadWords(unread, this.state.uri)} What hangs on it is not shown.`);
  }

  private keyOf(choices: Choices | undefined): string {
    const { section } = this.state;
    return JSON.stringify([section, choices?.root, choices?.coupling, choices?.case, choices?.moment]);
  }

  /** The cursor was put somewhere: what stands there is marked, in another coupling where this one does not show it. */
  private async follow(uri: string, position: Point, mayLeave = true): Promise<void> {
    if (uri !== this.state.uri || this.state.section !== 'drawing') return;
    const { root } = this.state;
    // Without an answer nothing is marked; that there is none is told where figures are asked for.
    const nothing: Pointed = { names: [] };
    const { coupling, names } = await this.host.ask<Pointed>('pointed', { uri, root, position }).catch(() => nothing);
    const isShown = this.drawing.mark({ uri, position, names });
    if (isShown || !mayLeave || coupling === undefined || coupling === this.choices?.coupling) return;
    this.choose({ coupling, view: undefined });
  }

  /** Puts what can be chosen into the pickers; those of which there is one only are left out. */
  private offer(): void {
    const { heeds } = ASKS[this.state.section];
    const { choices } = this;
    const sites = choices?.sites ?? [];
    const couplings = choices?.couplings ?? [];
    const cases = choices?.cases ?? [];
    const moments = cases.find(({ name }) => name === choices?.case)?.moments ?? [];
    this.site.offer(
      sites.map(({ root, title }) => ({ value: root, title })),
      choices?.root,
    );
    this.site.isShown = sites.length > 1;
    this.coupling.offer(
      couplings.map(({ id, title }) => ({ value: id, title })),
      choices?.coupling,
    );
    this.coupling.isShown = heeds.includes('coupling') && couplings.length > 1;
    this.case.offer(cases.map(caseChoice), choices?.case);
    this.case.isShown = heeds.includes('case') && cases.length > 1;
    this.moment.offer(
      moments.map(({ label }, index) => ({ value: String(index), title: label })),
      String(choices?.moment),
    );
    this.moment.isShown = heeds.includes('moment') && moments.length > 1;
  }

  private showSection(): void {
    const { faults, figures, section } = this.state;
    const { heeds } = ASKS[section];
    this.tabs.choose(section);
    this.body.setAttribute('aria-labelledby', `tab-${section}`);
    this.figures.isOn = figures;
    this.figures.isShown = heeds.includes('figures');
    this.faults.isOn = faults ?? false;
    this.faults.isShown = heeds.includes('faults');
    this.offer();
  }

  /** What is there already is not put there again: whatever has the focus would lose it. */
  private put(element: HTMLElement): void {
    if (this.body.firstElementChild !== element) this.body.replaceChildren(element);
  }

  /** A sentence in place of a picture. */
  private say(sentence: string): void {
    this.body.classList.remove('dimmed');
    this.put(make('p', { class: 'sentence', text: sentence }));
    this.noteText('');
  }

  /** What is shown stays, and is told from what is up to date. */
  private dim(sentence: string): void {
    if (this.shown === undefined) {
      this.say(sentence);
      return;
    }
    this.body.classList.add('dimmed');
    this.noteText(sentence);
  }

  private noteText(text: string): void {
    if (this.note.textContent !== text) this.note.textContent = text;
  }
}

function caseChoice({ description, name }: Choices['cases'][number]): { value: string; title: string } {
  return { value: name, title: description === undefined ? name : `${name} – ${description}` };
}

/** `uri` is the file that is shown: only the lines of others are told with their file. */
function unreadWords({ count, message, place }: Unread, uri: string | undefined): string {
  const file = place.uri === uri ? '' : ` of ${decodeURIComponent(place.uri.slice(place.uri.lastIndexOf('/') + 1))}`;
  const more = count > 1 ? ` (There are ${count - 1} more such places.)` : '';
  return `Line ${place.start.line + 1}${file} cannot be read: ${message}${more}`;
}
