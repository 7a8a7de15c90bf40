import { readdirSync } from 'node:fs';
import { CATALOGUE, explanationOrder, isComputed, RULE_NAMES, RULES, UNCOMPUTED_RULES } from '@couplet/rules';
import { describe, expect, it } from 'vitest';

/** Every name that the design gives, copied by hand. */
const NAMES = `
output-overloaded output-inrush-exceeded output-voltage-exceeded no-return-path output-polarity-reversed
leakage-holds-load back-feed chattering-output reset-state-undeclared port-role-unset contact-unpowered-undeclared
load-undervoltage load-overvoltage worst-mode-missing load-polarity-reversed
coil-may-not-operate relay-may-drop-out coil-undervoltage coil-overvoltage coil-may-not-release
latching-pulse-too-short latching-both-coils latching-state-unproven relay-oscillates memory-undeclared latch-without-reset
contact-overloaded contact-below-minimum-load contact-shared mains-beside-elv rest-inverted
reading-outside-band bands-unsound states-collide loop-resistance-high terminator-not-at-far-end terminator-in-hot-leg
several-alarms-misread too-many-detectors leakage-masks-alarm foreign-voltage shared-return-shift silent-fault
tamper-inside-shunt
signal-too-short events-merge timer-function-wrong release-too-slow signals-never-overlap
supply-overloaded fuse-overloaded supply-loss-silent battery-too-small charger-too-small charger-too-strong
standing-load-omitted
core-overloaded fuse-will-not-clear feed-unfused undeclared-bond earthing-undeclared voltage-above-elv
coil-unsuppressed suppressor-reversed core-colour-reversed line-unprotected
terminal-overfilled terminal-unused core-unused pole-unused zone-without-case value-not-preferred
places-joined-without-cable changed-unasked expectation-failed reading-disagrees acceptance-stale
release-can-be-defeated lock-held-without-supply safety-function-interposed
`
  .trim()
  .split(/\s+/);

describe('the registry of rules', () => {
  it('knows every rule by name, computed or not', () => {
    expect(NAMES).toHaveLength(80);
    expect(NAMES.filter((name) => !RULE_NAMES.some((known) => known === name))).toEqual([]);
    for (const name of RULE_NAMES) expect(isComputed(name) || UNCOMPUTED_RULES.includes(name)).toBe(true);
  });

  it('names bad states in lower case', () => {
    for (const name of RULE_NAMES) expect(name).toMatch(/^[a-z]+(-[a-z]+)+$/);
  });

  it('holds every file of the folder of rules once', () => {
    const files = readdirSync(new URL('../../packages/rules/src/rules/', import.meta.url))
      .filter((file) => file !== 'index.ts')
      .map((file) => file.replace(/\.ts$/, ''));
    expect(RULES.map((rule) => rule.name).sort()).toEqual(files.sort());
  });

  it('says of every rule what, why and from where', () => {
    for (const [name, row] of Object.entries(CATALOGUE)) {
      expect(row.summary.length, name).toBeGreaterThan(20);
      expect(row.summary, name).not.toMatch(/[.]$/);
      expect(row.origin, name).not.toBe('');
    }
  });

  it('refuses acceptance only of what could trap a person', () => {
    const refused = Object.entries(CATALOGUE).filter(([, row]) => 'acceptable' in row && row.acceptable === false);
    expect(refused.map(([name]) => name)).toEqual(['release-can-be-defeated', 'lock-held-without-supply']);
  });

  it('lets a site set one threshold of a rule at most, and every one that is practice or from memory', () => {
    for (const rule of RULES) {
      expect(rule.thresholds.filter((threshold) => threshold.settable).length, rule.name).toBeLessThanOrEqual(1);
      for (const threshold of rule.thresholds) {
        expect(threshold.origin, `${rule.name} ${threshold.key}`).not.toBe('');
        expect(Number.isFinite(threshold.value), `${rule.name} ${threshold.key}`).toBe(true);
        if (threshold.standing === 'common practice') expect(threshold.settable, rule.name).toBe(true);
      }
    }
  });
});

describe('what explains what', () => {
  it('goes in no circle', () => {
    expect(() => explanationOrder()).not.toThrow();
  });

  it('puts a cause before what it explains', () => {
    const order = explanationOrder();
    for (const rule of RULES) {
      for (const explained of rule.explains) {
        expect(order.indexOf(rule.name), `${rule.name} before ${explained}`).toBeLessThan(order.indexOf(explained));
      }
    }
  });

  it('names each explained rule once', () => {
    for (const rule of RULES) expect(new Set(rule.explains).size, rule.name).toBe(rule.explains.length);
  });
});
