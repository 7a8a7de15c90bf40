/** Examples of the language reference. Each is a file of its own; the tests read them and allow no finding of the language. */

/** By the rule of the grammar that makes the statement. */
export const STATEMENT_EXAMPLES: Readonly<Record<string, string>> = {
  Site: `site "Tidewater Mill" {
  ambient: -5 degC .. 40 degC
  blind: 3
  limits { output-overloaded: 90%  leakage-masks-alarm: 10k }
}`,
  Use: `use "library/relays.couplet"
relay K1 : RelaySignal12`,
  Place: `place pit "Wheel pit, pump chamber" {
  ambient: -5 degC .. 40 degC
  wet: yes
}`,
  NamedValue: `value LEAST = 10.5 V
load P1 = 6 W @ 12 V
case alarm { expect P1 >= LEAST }`,
  TypeDeclaration: `type SmallRelay : relay "Signal relay" {
  coil: 12 V, 720 ohm +-10%
  contacts: changeover 2
}
relay K1 : SmallRelay`,
  Component: `place pit
type SmallRelay : relay { coil: 12 V, 720 ohm }
relay K1, K2 : SmallRelay in pit "High water" { suppressor: diode }
resistor RE = 2k2 +-1%`,
  Wire: `type Panel : unit {
  common ZC { earthed: yes }
  zone Z1 { feed: 5 V via 4k7  return: ZC }
}
unit panel : Panel
switch S1 { contacts: break }
resistor RE = 2k2 +-1%
resistor RA = 4k7 +-1%
wire panel.Z1 -- S1.11-12 -- RE -- panel.ZC
wire S1.11 -- RA -- S1.12`,
  Bond: `unit level { common GND { earthed: no } }
unit panel { common ZC { earthed: yes } }
bond level.GND -- panel.ZC because "the sinking outputs of the controller drive loads of the panel"`,
  Spare: `place mill
place pit
cable W1 {
  cores: GN, YE, RD, BK
  size: 0.22 mm2
  length: 140 m
  from: mill
  to: pit
}
relay K1 { contacts: changeover }
spare W1.RD, W1.BK, K1.12`,
  Program: `unit level {
  common GND { earthed: no }
  output Q1 { style: sink  return: GND }
}
program level.Q1 rest = on
program level.Q1 pattern = 0.5 s / 0.5 s
program level "Beacon time" = 90 s`,
  Confirm: `unit panel {
  common ZC { earthed: yes }
  zone Z1 .. Z2 { feed: 5 V via 4k7  return: ZC }
  output Q1 { style: sink  return: ZC }
}
confirm both = panel.Z1, panel.Z2 within 30 s { partner-in-trouble: counts-alone }
program panel.Q1 follows = both confirmed`,
  Case: `unit level {
  common GND { earthed: no }
  output Q1 { style: sink  return: GND }
}
load P1 = 6 W @ 12 V { works: 10 V .. 15 V }
case high-water "Float switch lifts" {
  turn level.Q1 on for 90 s
  expect P1 >= 10.5 V
  wait 100 s
  expect P1 off
}
case later after high-water { expect P1 off }`,
  Measured: `unit panel {
  common ZC { earthed: yes }
  zone Z1 { feed: 5 V via 4k7  return: ZC }
}
measured 2026-10-02 by "A. Tester" with "meter 7" at 12 degC {
  rest: volts panel.Z1 to panel.ZC = 1.61 V
  rest: amps in panel.Z1 = 0.72 mA
}`,
  Accept: `relay K1 { contacts: changeover }
accept silent-fault welded on K1 because "tested every month" until 2028-01-31
accept coil-unsuppressed on K1 because "the output of the controller clamps"`,
  Autonomy: `battery G2 = 12 V, 17 Ah
case alarm {}
autonomy G2 {
  carries: rest for 24 h, alarm for 30 min
  recharge: 72 h
}`,
};

/** By the rule that makes the step. */
export const STEP_EXAMPLES: Readonly<Record<string, string>> = {
  Turn: `unit level {
  common GND { earthed: no }
  output Q1 { style: sink  return: GND }
}
switch S1 { contacts: break }
resistor RE = 2k2
case door-open {
  turn level.Q1 on for 2 s
  turn S1 open
  turn RE missing
}`,
  Expect: `unit panel {
  common ZC { earthed: yes }
  rail AUX { volts: 10.5 V .. 13 V .. 13.8 V  return: ZC }
  zone Z1 { feed: 5 V via 4k7  return: ZC }
}
relay K1 { coil: 12 V, 720 ohm }
case alarm {
  expect panel.Z1 alarm within 1 s
  expect panel.Z1 alarm 2 times
  expect K1 operated throughout
  expect K1 >= 9 V
  expect volts panel.AUX to panel.ZC 10.5 V .. 14 V
  expect panel.AUX about 120 mA +-5%
}`,
  Wait: `case a-while { wait 90 s }`,
};

/** By kind of component. */
export const KIND_EXAMPLES: Readonly<Record<string, string>> = {
  unit: `unit panel "Panel with one zone and one output" {
  supply IN { plus: V  minus: G  works: 10 V .. 15 V  draws: 60 mA .. 80 mA }
  common G { earthed: no }
  zone Z1 { feed: 5 V via 4k7  return: G  bands { short: below 1k1  normal: 1k1 .. 3k9  alarm: above 3k9 } }
  output Q1 { style: sink  return: G  rated: 200 mA  drop: 0.5 V  leak: 20 uA  withstands: 36 V  at-power-up: off }
}`,
  relay: `relay K1 "Signal relay with a diode" {
  coil: 12 V, 720 ohm +-10%
  operates: 70%
  releases: 10%
  contacts: changeover 2
  contact-rating: 2 A @ 30 V
  suppressor: diode
}
relay K2 "Timer, on for 30 s after its control goes away" {
  function: off-delay
  time: 30 s
  works: 10 V .. 15 V
  draws: 25 mA
  contacts: late-changeover
}`,
  resistor: `resistor RE = 2k2 +-1% "End resistor"`,
  capacitor: 'capacitor C1 = 2200 uF -20% +20%',
  diode: `diode D1 = 1 A {
  drop: 0.7 V
  reverse: 1000 V
}`,
  fuse: 'fuse F1 = 2 A { speed: slow }',
  load: `load P1 = 6 W @ 12 V "Beacon" {
  style: resistive
  works: 10 V .. 15 V
  inrush: 150% @ 10 ms
}
load P2 = 120 mA @ 12 V
load P3 = 47 ohm`,
  switch: `switch S1 "Door contact" { contacts: break }
switch S2 "Break-glass point" { contacts: changeover 2 }`,
  cable: `place mill
place pit
place yard
cable W1 {
  cores: GN, YE, RD, BK
  size: 0.22 mm2
  length: 140 m
  from: mill
  to: pit
  route: outdoor
}
cable W2 {
  cores: 20
  size: 0.5 mm2
  legs: mill, 60 m, yard, 40 m, pit
}`,
  supply: `battery G2 = 12 V, 7 Ah
supply G1 = 13.65 V, 2 A {
  earthed: minus
  charges: G2
}`,
  battery: `battery G2 = 12 V, 7 Ah {
  chemistry: agm
  end-volts: 10.5 V
}`,
  arrester: `arrester F2 {
  lines: 2
  ohms: 4R7
  clamps: 18 V
}`,
  joint: `joint X1 "A splice"
joint X2 "Terminal strip" { terminals: 12 }
wire X1 -- X2.3`,
  assembly: `type DoorLoop : assembly "Door contact with both resistors at the contact" {
  given Z : zone
  given run : length
  switch S1 { contacts: break }
  resistor RA = 4k7 +-1%
  resistor RE = 2k2 +-1%
  cable W1 {
    cores: GN, YE
    size: 0.22 mm2
    length: run
    from: Z
    to: here
  }
  wire Z -- W1.GN -- S1.11-12 -- RE -- W1.YE -- Z.return
  wire S1.11 -- RA -- S1.12
  case opened {
    turn S1 open
    expect Z alarm within 1 s
  }
}
unit panel {
  common ZC { earthed: yes }
  zone Z1 .. Z8 { feed: 5 V via 4k7  return: ZC }
}
assembly B01 : DoorLoop "Front door" { Z: panel.Z1  run: 40 m }
assembly B02 : DoorLoop "Yard door" { Z: panel.Z2  run: 95 m  W1.size: 0.5 mm2  RE.rating: 2k2 +-5% }`,
};

/** By kind of member. */
export const MEMBER_EXAMPLES: Readonly<Record<string, string>> = {
  supply: 'unit b1 { supply IN { plus: V  minus: G  works: 9 V .. 16 V  draws: 25 mA .. 30 mA } }',
  rail: `unit panel {
  supply IN { plus: V  minus: ZC }
  common ZC { earthed: yes }
  rail AUX { volts: 10.5 V .. 13 V .. 13.8 V  limit: 750 mA  return: ZC  fed-by: IN  own-draw: 150 mA }
}`,
  common: 'unit level { common "0V" "Minus of the outputs" { earthed: no } }',
  output: `unit plc {
  common M { earthed: no }
  rail L { volts: 24 V +-5%  return: M }
  output Q1 .. Q8 { style: source  rail: L  return: M  rated: 500 mA  drop: 0.8 V  leak: 50 uA  withstands: 40 V }
}`,
  input: `unit tele {
  common M { earthed: no }
  input DI1 { plus: DP  minus: DN  ohms: 3k3  drop: 1.2 V  on: above 2 mA  off: below 1.5 mA }
  input DI2 { minus: M  feed: 5 V via 4k7  on: below 1.5 V  off: above 3 V }
}`,
  port: `unit level {
  common GND { earthed: no }
  port X1 {
    as output { style: sink  return: GND  rated: 100 mA }
    as input { minus: GND  ohms: 10k  on: above 8 V  off: below 3 V }
  }
}
program level.X1 as = output`,
  contact: `unit b1 {
  contact ALARM { from: C1  to: NC1  rest: closed  unpowered: open  rating: 100 mA @ 30 V }
  contact LOCK { common: C  nc: NC  no: NO  rest: operated  unpowered: released }
}`,
  zone: `unit panel {
  common ZC { earthed: yes }
  scheme double { short: below 1k1  normal: 1k1 .. 3k9  alarm: 3k9 .. 10k  open: above 10k }
  zone Z1 .. Z8 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  restores: 400 ms  scheme: double }
}`,
  scheme: `unit panel {
  scheme three "Also for detectors that report trouble" {
    short: below 1k
    normal: 1k .. 3k
    alarm: 3k .. 5k
    masked: 5k .. 7k
    alarm+masked: 7k .. 9k
    open: above 9k
  }
}`,
  mode: `unit dialler {
  supply IN { plus: V  minus: G  works: 10 V .. 15 V  draws: 40 mA }
  mode sending { draws: 125 mA }
}
case alarm { turn dialler sending }`,
  terminal: 'unit panel { terminal T1 "Free, for joining" }',
};

/** Values as they may be written, each in one example. */
export const VALUE_EXAMPLE = `resistor R1 = 2k2 +-1%
resistor R2 = 470R
resistor R3 = 10 kohm -5% +10%
supply G1 = 11.4 V .. 12.8 V .. 14.1 V, 2 A
load P1 = 6 W @ 12 V { works: 10 V .. 15 V }
relay K1 { coil: 24 V, 1k1  operates: 70%  suppressor: zener 24 V }
unit panel {
  common ZC { earthed: yes }
  zone Z1 { feed: 5 V via 4k7  return: ZC  bands { normal: 1k .. 3k  alarm: above 3k  short: below 1k } }
}
place pit { ambient: -5 degC .. 40 degC }
cable W1 { cores: 4  size: 24 AWG  length: 140 m +-5%  core-ohms: 95 ohm/km }`;
