/**
 * How drawings and plots look. Every colour is a custom property with a light default, so that a page may set its own;
 * contrast of the defaults on their grounds is at least 4.5 to 1 for text and 3 to 1 for lines (WCAG 2.2, AA).
 */

export const PALETTE = {
  ink: '#1a1a1a',
  paper: '#ffffff',
  muted: '#54585e',
  figure: '#0b4f8a',
  lack: '#9a1f1f',
  frame: '#767b82',
  ground: '#f3f5f7',
  focus: '#b35900',
  good: '#1f6b3a',
  warn: '#8a5a00',
} as const;

export type Colour = keyof typeof PALETTE;

export interface Theme {
  /** Colours in place of the defaults. */
  readonly colours?: Partial<Readonly<Record<Colour, string>>>;
  /** False where the page has `SVG_STYLE` in a sheet of its own, as a strict content policy asks. */
  readonly style?: boolean;
}

/** The value of a colour in a style sheet: what the page sets, else the default. */
export function colour(name: Colour, theme: Theme = {}): string {
  return `var(--couplet-${name},${theme.colours?.[name] ?? PALETTE[name]})`;
}

/** For all drawings and plots. */
export function styleOf(theme: Theme = {}): string {
  const of = (name: Colour) => colour(name, theme);
  return [
    `.couplet{background:${of('paper')};font:12px/1.25 system-ui,-apple-system,"Segoe UI","DejaVu Sans",sans-serif}`,
    `.couplet text{fill:${of('ink')}}`,
    `.couplet .line,.couplet .wire{fill:none;stroke:${of('ink')};stroke-width:1.5;stroke-linejoin:round}`,
    `.couplet .paper{fill:${of('paper')};stroke:${of('ink')};stroke-width:1.5;stroke-linejoin:round}`,
    `.couplet .solid{fill:${of('ink')};stroke:none}`,
    '.couplet .dashed{stroke-dasharray:3 2}',
    `.couplet .blade{fill:none;stroke:${of('ink')};stroke-width:2.25;stroke-linecap:round}`,
    `.couplet .hit{fill:none;stroke:transparent;stroke-width:11;pointer-events:stroke}`,
    `.couplet .box{fill:transparent;stroke:none}`,
    `.couplet .block{fill:${of('paper')};stroke:${of('ink')};stroke-width:2}`,
    `.couplet .frame{fill:${of('ground')};stroke:${of('frame')};stroke-width:1.25;stroke-dasharray:10 3 2 3}`,
    `.couplet .sheath{fill:${of('paper')};stroke:${of('frame')};stroke-width:1.25}`,
    `.couplet .unused{stroke:${of('frame')};stroke-dasharray:2 3}`,
    '.couplet .name,.couplet .title{font-weight:600}',
    '.couplet .title{font-size:13px}',
    `.couplet .label{font-size:10px;fill:${of('muted')}}`,
    `.couplet .note,.couplet .axis{font-size:11px;fill:${of('muted')}}`,
    `.couplet .place{font-weight:600;fill:${of('muted')}}`,
    `.couplet .figure{font-size:11px;fill:${of('figure')}}`,
    `.couplet .lack{font-size:11px;font-style:italic;fill:${of('lack')}}`,
    `.couplet .halo{paint-order:stroke;stroke:${of('paper')};stroke-width:4px;stroke-linejoin:round}`,
    `.couplet .in-frame{stroke:${of('ground')}}`,
    '.couplet [tabindex]{cursor:pointer;outline:none}',
    '.couplet .mark{fill:none;stroke:none}',
    `.couplet [tabindex]:focus>.mark,.couplet .chosen>.mark{stroke:${of('focus')};stroke-width:2.5}`,
    `.couplet [tabindex]:focus>.wire,.couplet .chosen>.wire{stroke:${of('focus')};stroke-width:3}`,
    `.couplet .grid{stroke:${of('frame')};stroke-width:.5;opacity:.55}`,
    `.couplet .ground{fill:${of('ground')};stroke:none}`,
    '.couplet .paperless{fill:none;stroke:none}',
    `.couplet .edge{stroke:${of('ink')};stroke-width:1.25}`,
    `.couplet .good{fill:${of('good')}}`,
    `.couplet .warn{fill:${of('warn')}}`,
    `.couplet .bad{fill:${of('lack')}}`,
    `.couplet .area{fill:${of('figure')};opacity:.16;stroke:none}`,
    `.couplet .spread{stroke:${of('figure')};stroke-width:5;opacity:.5}`,
    `.couplet .curve{fill:none;stroke:${of('figure')};stroke-width:2}`,
  ].join('\n');
}
