import { solve } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { diceFrom, linearNetwork } from '../outside/random-networks.ts';
import { solveExactly } from './exact.ts';
import { amps, expectClose, network, ohms, volts } from './support.ts';

describe('exact arithmetic', () => {
  it('knows a divider', () => {
    const exact = solveExactly(network(3, volts(1, 0, 1), ohms(1, 2, 1), ohms(2, 0, 2), amps(0, 2, 0)));
    expectClose(exact.volts[2]!, 2 / 3, 1e-16);
    expectClose(exact.amps[0]!, -1 / 3, 1e-16);
  });

  it('agrees with the solver on every figure, however small beside the others', () => {
    const dice = diceFrom(4);
    let worstVolts = 0;
    let worstAmps = 0;
    for (let k = 0; k < 200; k++) {
      const net = linearNetwork(dice);
      const exact = solveExactly(net);
      const point = solve(net);
      expect(point.outcome.sort).toBe('solved');
      const largest = Math.max(1e-9, ...exact.volts.map(Math.abs));
      exact.volts.forEach((v, n) => {
        worstVolts = Math.max(worstVolts, Math.abs(point.volts[n]! - point.volts[0]! - v) / largest);
      });
      exact.amps.forEach((i, k) => {
        // Around a loop of small ohms the rounding of the volts (1e-16 of the largest) drives a current.
        const law = net.laws[k]!;
        const siemens = law.sort === 'ohms' ? 1 / law.ohms : law.sort === 'volts' ? 10 : 0;
        const scale = Math.abs(i) + 1e-3 * largest * siemens;
        if (scale > 0) worstAmps = Math.max(worstAmps, Math.abs(point.amps[k]! - i) / scale);
      });
    }
    console.log(
      `against exact arithmetic: volts ${worstVolts.toExponential(1)} of the largest, amperes ${worstAmps.toExponential(1)}`,
    );
    expect(worstVolts).toBeLessThan(1e-13);
    expect(worstAmps).toBeLessThan(1e-11);
  });
});
