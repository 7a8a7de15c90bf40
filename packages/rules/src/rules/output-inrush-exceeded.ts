import type { ComponentOf, Load } from '@couplet/engine';
import { circuitComponents, componentOf, ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf } from '../support/coil.ts';
import { instantsOf, mayBe, worstOf } from '../support/instants.ts';
import { isConnected, whereWired } from '../support/place.ts';
import { list, percent, show } from '../support/words.ts';

interface Data {
  readonly output: ComponentOf<'output'>;
  readonly amps: number;
  readonly seconds?: number;
  readonly allowed: number;
  readonly loads: readonly string[];
}

/** What a load of each style is taken for when it does not declare its inrush: how many times its current. */
const ASSUMED: Readonly<Record<string, { readonly factor: number; readonly seconds: number; readonly as: string }>> = {
  'constant-current': { factor: 3, seconds: 0.02, as: 'a sounder' },
  'constant-power': { factor: 10, seconds: 0.005, as: 'a module with a capacitor' },
  resistive: { factor: 10, seconds: 0.05, as: 'a filament lamp' },
};

export const outputInrushExceeded = defineRule<Data>({
  name: 'output-inrush-exceeded',
  thresholds: [
    {
      key: 'share',
      value: 1,
      unit: '',
      says: 'inrush over the peak of the output',
      origin: 'inrush of sounders, modules and filaments',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    for (const output of ofKind(context.design, 'output')) {
      if (!isConnected(context.design, output.id)) continue;
      const loads = circuitComponents(context.design, output.id)
        .map((id) => componentOf(context.design, id, 'load'))
        .filter((load) => load !== undefined);
      if (loads.length === 0) continue;
      const on = instantsOf(context.analysis, output.id).filter((at) => mayBe(at, output.id, 'on', 'pulsing'));
      let amps = 0;
      let seconds: number | undefined;
      const assumptions: string[] = [];
      const undeclared: Load[] = [];
      for (const load of loads) {
        const steady = worstOf(
          context,
          load.id,
          on,
          (at) => at.moment.amps(load.id),
          (value) => value.most,
        );
        if (steady === undefined || steady.value.most <= 0) continue;
        const inrush = inrushOf(load, steady.value.most);
        if (inrush === undefined) continue;
        if (inrush.assumption !== undefined) {
          undeclared.push(load);
          assumptions.push(inrush.assumption);
        }
        amps += inrush.amps;
        if (inrush.seconds !== undefined) seconds = Math.max(seconds ?? 0, inrush.seconds);
      }
      if (amps <= 0) continue;
      const allowed = allowedOf(context, output, amps, undeclared);
      if (allowed === undefined || amps <= allowed.amps * context.threshold('share').value) continue;
      yield {
        severity: 'error',
        origin: whereWired(context.design, output.id, output.a),
        subject: output.id,
        alsoConcerns: loads.map((load) => load.id),
        caseName: on[0]?.of.name,
        related: loads.map((load) => ({
          origin: load.inrush?.origin ?? load.origin,
          message: `${load.name} hangs on ${output.name}`,
        })),
        assumptions: [...assumptions, ...allowed.assumptions],
        data: { output, amps, seconds, allowed: allowed.amps, loads: loads.map((load) => load.name) },
      };
    }
  },
  word({ data }) {
    const { output, amps, seconds, allowed, loads } = data;
    const time = seconds === undefined ? '' : ` for ${show(seconds, 's')}`;
    return (
      `${list(loads)} draw${loads.length === 1 ? 's' : ''} up to ${show(amps, 'A')}${time} when ${output.name} switches on, ` +
      `${percent(amps / allowed)} of the ${show(allowed, 'A')} that it bears for so short: it may trip or burn out. Take an output with a ` +
      `peak of at least ${show(amps, 'A')}, or a relay, or a load whose declared inrush is lower.`
    );
  },
});

interface Inrush {
  readonly amps: number;
  readonly seconds?: number;
  readonly assumption?: string;
}

function inrushOf(load: Load, steady: number): Inrush | undefined {
  if (load.inrush !== undefined) {
    const amps =
      load.inrush.amps?.most ?? (load.inrush.factor === undefined ? undefined : load.inrush.factor.most * steady);
    return amps === undefined ? undefined : { amps: Math.max(amps, steady), seconds: load.inrush.seconds?.most };
  }
  const assumed = ASSUMED[load.style?.word ?? ''];
  if (assumed === undefined) return undefined;
  const { factor, seconds, as } = assumed;
  const assumption = `${load.name} draws ${factor} times its current for ${show(seconds, 's')} like ${as}`;
  return { amps: factor * steady, seconds, assumption };
}

/**
 * What the output bears: its peak, or its rating where that is enough. Where neither peak nor inrush is declared, nothing
 * can be said.
 */
function allowedOf(
  context: RuleContext,
  output: ComponentOf<'output'>,
  amps: number,
  undeclared: readonly Load[],
): { readonly amps: number; readonly assumptions: readonly string[] } | undefined {
  if (output.peak !== undefined) return { amps: output.peak.amps.least, assumptions: assumptionOf(output.peak.amps) };
  if (output.rated !== undefined && amps <= output.rated.least) return { amps: output.rated.least, assumptions: [] };
  context.gap({
    subject: output.id,
    needs: [
      { component: output.id, property: 'peak', origin: output.origin },
      ...undeclared.map((load) => ({ component: load.id, property: 'inrush', origin: load.origin })),
    ],
  });
  return undefined;
}
