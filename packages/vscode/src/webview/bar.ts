/** The head of the page: its sections, and what is chosen in them. */
import { SECTIONS, type Section } from '../preview/state.ts';
import { make } from './dom.ts';

const SECTION_TITLES: Readonly<Record<Section, string>> = {
  drawing: 'Drawing',
  time: 'Time line',
  bands: 'Zone bands',
  battery: 'Battery',
};

/** Tabs as the WAI-ARIA practices describe them: one of them in the tab order, arrow keys go along. */
export class Tabs {
  readonly element: HTMLElement;
  private readonly tabs: ReadonlyMap<Section, HTMLButtonElement>;

  constructor(onChosen: (section: Section) => void) {
    this.element = make('div', { class: 'tabs', attributes: { role: 'tablist', 'aria-label': 'What is shown' } });
    this.tabs = new Map(
      SECTIONS.map((section) => {
        const attributes = { role: 'tab', type: 'button', id: `tab-${section}`, 'aria-controls': 'section' };
        const tab = make('button', {
          text: SECTION_TITLES[section],
          attributes,
          on: { click: () => onChosen(section) },
        });
        this.element.append(tab);
        return [section, tab] as const;
      }),
    );
    this.element.addEventListener('keydown', (event) => {
      const at = SECTIONS.findIndex((each) => this.tabs.get(each) === document.activeElement);
      const next = nextTab(event.key, at);
      if (at < 0 || next === undefined) return;
      event.preventDefault();
      onChosen(next);
      this.tabs.get(next)?.focus();
    });
  }

  choose(section: Section): void {
    for (const [each, tab] of this.tabs) {
      tab.setAttribute('aria-selected', String(each === section));
      tab.tabIndex = each === section ? 0 : -1;
    }
  }
}

function nextTab(key: string, at: number): Section | undefined {
  const last = SECTIONS.length - 1;
  const to: Readonly<Record<string, number>> = {
    ArrowRight: at === last ? 0 : at + 1,
    ArrowLeft: at === 0 ? last : at - 1,
    Home: 0,
    End: last,
  };
  return SECTIONS[to[key] ?? -1];
}

export interface Choice {
  readonly value: string;
  readonly title: string;
}

/** A list to choose one from; hidden where there is nothing to choose. */
export class Picker {
  readonly element: HTMLElement;
  private readonly select: HTMLSelectElement;
  private listed = '';

  constructor(label: string, onChosen: (value: string) => void) {
    this.select = make('select', { on: { change: () => onChosen(this.select.value) } });
    this.element = make('label', { class: 'picker' }, make('span', { text: label }), this.select);
  }

  /** The options stay as they are while they say the same: an open list must not be taken away. */
  offer(choices: readonly Choice[], chosen: string | undefined): void {
    const listed = JSON.stringify(choices);
    if (listed !== this.listed) {
      this.listed = listed;
      const options = choices.map(({ title, value }) => make('option', { text: title, attributes: { value } }));
      this.select.replaceChildren(...options);
    }
    if (chosen !== undefined && this.select.value !== chosen) this.select.value = chosen;
  }

  set isShown(shown: boolean) {
    this.element.hidden = !shown;
  }
}

/** A box to tick. */
export class Switch {
  readonly element: HTMLElement;
  private readonly box: HTMLInputElement;

  constructor(label: string, onSwitched: (on: boolean) => void) {
    this.box = make('input', {
      attributes: { type: 'checkbox' },
      on: { change: () => onSwitched(this.box.checked) },
    });
    this.element = make('label', { class: 'switch' }, this.box, make('span', { text: label }));
  }

  set isOn(on: boolean) {
    this.box.checked = on;
  }

  set isShown(shown: boolean) {
    this.element.hidden = !shown;
  }
}

export function button(text: string, label: string, onClick: () => void): HTMLButtonElement {
  return make('button', {
    class: 'plain',
    text,
    attributes: { type: 'button', 'aria-label': label, title: label },
    on: { click: onClick },
  });
}
