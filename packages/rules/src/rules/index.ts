/** Every rule that is computed. A rule is a file beside this one and a line here. */
import type { Rule } from '../rule.ts';
import { backFeed } from './back-feed.ts';
import { bandsUnsound } from './bands-unsound.ts';
import { batteryTooSmall } from './battery-too-small.ts';
import { changedUnasked } from './changed-unasked.ts';
import { chargerTooSmall } from './charger-too-small.ts';
import { chargerTooStrong } from './charger-too-strong.ts';
import { chatteringOutput } from './chattering-output.ts';
import { coilMayNotOperate } from './coil-may-not-operate.ts';
import { coilMayNotRelease } from './coil-may-not-release.ts';
import { coilOvervoltage } from './coil-overvoltage.ts';
import { coilUndervoltage } from './coil-undervoltage.ts';
import { coilUnsuppressed } from './coil-unsuppressed.ts';
import { contactBelowMinimumLoad } from './contact-below-minimum-load.ts';
import { contactOverloaded } from './contact-overloaded.ts';
import { contactShared } from './contact-shared.ts';
import { contactUnpoweredUndeclared } from './contact-unpowered-undeclared.ts';
import { contradictorySources } from './contradictory-sources.ts';
import { coreColourReversed } from './core-colour-reversed.ts';
import { coreOverloaded } from './core-overloaded.ts';
import { coreUnused } from './core-unused.ts';
import { earthingUndeclared } from './earthing-undeclared.ts';
import { eventsMerge } from './events-merge.ts';
import { expectationFailed } from './expectation-failed.ts';
import { feedUnfused } from './feed-unfused.ts';
import { foreignVoltage } from './foreign-voltage.ts';
import { fuseOverloaded } from './fuse-overloaded.ts';
import { fuseWillNotClear } from './fuse-will-not-clear.ts';
import { latchWithoutReset } from './latch-without-reset.ts';
import { latchingBothCoils } from './latching-both-coils.ts';
import { latchingPulseTooShort } from './latching-pulse-too-short.ts';
import { latchingStateUnproven } from './latching-state-unproven.ts';
import { leakageHoldsLoad } from './leakage-holds-load.ts';
import { leakageMasksAlarm } from './leakage-masks-alarm.ts';
import { lineUnprotected } from './line-unprotected.ts';
import { loadOvervoltage } from './load-overvoltage.ts';
import { loadPolarityReversed } from './load-polarity-reversed.ts';
import { loadUndervoltage } from './load-undervoltage.ts';
import { lockHeldWithoutSupply } from './lock-held-without-supply.ts';
import { loopResistanceHigh } from './loop-resistance-high.ts';
import { mainsBesideElv } from './mains-beside-elv.ts';
import { memoryUndeclared } from './memory-undeclared.ts';
import { noReturnPath } from './no-return-path.ts';
import { orderDecides } from './order-decides.ts';
import { outputInrushExceeded } from './output-inrush-exceeded.ts';
import { outputOverloaded } from './output-overloaded.ts';
import { outputPolarityReversed } from './output-polarity-reversed.ts';
import { outputVoltageExceeded } from './output-voltage-exceeded.ts';
import { placesJoinedWithoutCable } from './places-joined-without-cable.ts';
import { poleUnused } from './pole-unused.ts';
import { portRoleUnset } from './port-role-unset.ts';
import { powerNotDeliverable } from './power-not-deliverable.ts';
import { readingDisagrees } from './reading-disagrees.ts';
import { readingOutsideBand } from './reading-outside-band.ts';
import { relayMayDropOut } from './relay-may-drop-out.ts';
import { relayOscillates } from './relay-oscillates.ts';
import { releaseCanBeDefeated } from './release-can-be-defeated.ts';
import { releaseTooSlow } from './release-too-slow.ts';
import { resetStateUndeclared } from './reset-state-undeclared.ts';
import { restInverted } from './rest-inverted.ts';
import { safetyFunctionInterposed } from './safety-function-interposed.ts';
import { severalAlarmsMisread } from './several-alarms-misread.ts';
import { sharedReturnShift } from './shared-return-shift.ts';
import { signalTooShort } from './signal-too-short.ts';
import { signalsNeverOverlap } from './signals-never-overlap.ts';
import { silentFault } from './silent-fault.ts';
import { solutionUnsound } from './solution-unsound.ts';
import { standingLoadOmitted } from './standing-load-omitted.ts';
import { statesCollide } from './states-collide.ts';
import { supplyLossSilent } from './supply-loss-silent.ts';
import { supplyOverloaded } from './supply-overloaded.ts';
import { suppressorReversed } from './suppressor-reversed.ts';
import { tamperInsideShunt } from './tamper-inside-shunt.ts';
import { terminalOverfilled } from './terminal-overfilled.ts';
import { terminalUnused } from './terminal-unused.ts';
import { terminatorInHotLeg } from './terminator-in-hot-leg.ts';
import { terminatorNotAtFarEnd } from './terminator-not-at-far-end.ts';
import { timerFunctionWrong } from './timer-function-wrong.ts';
import { tooManyDetectors } from './too-many-detectors.ts';
import { undeclaredBond } from './undeclared-bond.ts';
import { valueNotPreferred } from './value-not-preferred.ts';
import { voltageAboveElv } from './voltage-above-elv.ts';
import { worstModeMissing } from './worst-mode-missing.ts';
import { zoneWithoutCase } from './zone-without-case.ts';

export const RULES: readonly Rule[] = [
  backFeed,
  bandsUnsound,
  batteryTooSmall,
  changedUnasked,
  chargerTooSmall,
  chargerTooStrong,
  chatteringOutput,
  coilMayNotOperate,
  coilMayNotRelease,
  coilOvervoltage,
  coilUndervoltage,
  coilUnsuppressed,
  contactBelowMinimumLoad,
  contactOverloaded,
  contactShared,
  contactUnpoweredUndeclared,
  contradictorySources,
  coreColourReversed,
  coreOverloaded,
  coreUnused,
  earthingUndeclared,
  eventsMerge,
  expectationFailed,
  feedUnfused,
  foreignVoltage,
  fuseOverloaded,
  fuseWillNotClear,
  latchWithoutReset,
  latchingBothCoils,
  latchingPulseTooShort,
  latchingStateUnproven,
  leakageHoldsLoad,
  leakageMasksAlarm,
  lineUnprotected,
  loadOvervoltage,
  loadPolarityReversed,
  loadUndervoltage,
  lockHeldWithoutSupply,
  loopResistanceHigh,
  mainsBesideElv,
  memoryUndeclared,
  noReturnPath,
  orderDecides,
  outputInrushExceeded,
  outputOverloaded,
  outputPolarityReversed,
  outputVoltageExceeded,
  placesJoinedWithoutCable,
  poleUnused,
  portRoleUnset,
  powerNotDeliverable,
  readingDisagrees,
  readingOutsideBand,
  relayMayDropOut,
  relayOscillates,
  releaseCanBeDefeated,
  releaseTooSlow,
  resetStateUndeclared,
  restInverted,
  safetyFunctionInterposed,
  severalAlarmsMisread,
  sharedReturnShift,
  signalTooShort,
  signalsNeverOverlap,
  silentFault,
  solutionUnsound,
  standingLoadOmitted,
  statesCollide,
  supplyLossSilent,
  supplyOverloaded,
  suppressorReversed,
  tamperInsideShunt,
  terminalOverfilled,
  terminalUnused,
  terminatorInHotLeg,
  terminatorNotAtFarEnd,
  timerFunctionWrong,
  tooManyDetectors,
  undeclaredBond,
  valueNotPreferred,
  voltageAboveElv,
  worstModeMissing,
  zoneWithoutCase,
];
