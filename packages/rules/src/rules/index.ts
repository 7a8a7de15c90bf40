/** Every rule that is computed. A rule is a file beside this one and a line here. */
import type { Rule } from '../rule.ts';
import { coilMayNotOperate } from './coil-may-not-operate.ts';
import { coilOvervoltage } from './coil-overvoltage.ts';
import { coilUnsuppressed } from './coil-unsuppressed.ts';
import { contactBelowMinimumLoad } from './contact-below-minimum-load.ts';
import { contactOverloaded } from './contact-overloaded.ts';
import { expectationFailed } from './expectation-failed.ts';
import { leakageHoldsLoad } from './leakage-holds-load.ts';
import { loadOvervoltage } from './load-overvoltage.ts';
import { loadUndervoltage } from './load-undervoltage.ts';
import { noReturnPath } from './no-return-path.ts';
import { outputOverloaded } from './output-overloaded.ts';
import { outputVoltageExceeded } from './output-voltage-exceeded.ts';
import { placesJoinedWithoutCable } from './places-joined-without-cable.ts';
import { readingOutsideBand } from './reading-outside-band.ts';
import { relayMayDropOut } from './relay-may-drop-out.ts';
import { restInverted } from './rest-inverted.ts';
import { signalTooShort } from './signal-too-short.ts';
import { supplyOverloaded } from './supply-overloaded.ts';
import { suppressorReversed } from './suppressor-reversed.ts';
import { terminatorNotAtFarEnd } from './terminator-not-at-far-end.ts';
import { valueNotPreferred } from './value-not-preferred.ts';
import { voltageAboveElv } from './voltage-above-elv.ts';

export const RULES: readonly Rule[] = [
  coilMayNotOperate,
  coilOvervoltage,
  coilUnsuppressed,
  contactBelowMinimumLoad,
  contactOverloaded,
  expectationFailed,
  leakageHoldsLoad,
  loadOvervoltage,
  loadUndervoltage,
  noReturnPath,
  outputOverloaded,
  outputVoltageExceeded,
  placesJoinedWithoutCable,
  readingOutsideBand,
  relayMayDropOut,
  restInverted,
  signalTooShort,
  supplyOverloaded,
  suppressorReversed,
  terminatorNotAtFarEnd,
  valueNotPreferred,
  voltageAboveElv,
];
