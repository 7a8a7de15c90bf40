import { describe, expect, it } from 'vitest';
import { tidewater } from './tidewater.ts';

describe('a site written by hand', () => {
  const design = tidewater().build();
  const terminal = (id: number) => design.terminals[id]!.name;

  it('joins a chain in order, through parts, poles and cores', () => {
    const joins = design.joins.map((join) => `${terminal(join.a)} ${terminal(join.b)}`);
    expect(joins).toContain('panel.Z4 W1.GN.mill');
    expect(joins).toContain('W1.GN.pit K1.11');
    expect(joins).toContain('K1.14 RE.1');
    expect(joins).toContain('RE.2 W1.YE.pit');
    expect(joins).toContain('W1.YE.mill panel.ZC');
    expect(joins).toContain('level.V12 K1.A1');
    expect(joins).toContain('K1.A2 level.Q1');
  });

  it('gives members their owner and the owner its members', () => {
    const unit = design.components.find((part) => part.name === 'level')!;
    const output = design.components.find((part) => part.name === 'level.Q1')!;
    expect(output.owner).toBe(unit.id);
    expect(unit.kind === 'unit' && unit.members).toContain(output.id);
    expect(output.place).toBe(unit.place);
  });
});
