/** The text of a first site. */

export const NEW_SITE = `// A controller tells an alarm panel something through a relay, and lights a beacon.
// Change names, places and values to those of your site; all of these are made up.

// 'blind' counts the single faults that nobody would notice before an event; a test at intervals finds them.
site "New site" {
  ambient: 0 degC .. 40 degC
  blind: 3
}

place plant "Where the controller is"
place hut "Where the panel is"

type Controller : unit {
  rail V12 { volts: 11.4 V .. 12.8 V .. 14.1 V  limit: 1.6 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 200 mA  drop: 0.5 V  leak: 20 uA  withstands: 36 V  at-power-up: off }
  output Q2 { style: sink  return: GND  rated: 1.2 A  drop: 0.3 V  leak: 80 uA  withstands: 36 V  at-power-up: off }
}
type Panel : unit {
  common ZC { earthed: yes }
  scheme double { short: below 1k1  normal: 1k1 .. 3k9  alarm: 3k9 .. 10k  open: above 10k }
  zone Z1 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  restores: 400 ms  scheme: double }
}
type Relay : relay {
  coil: 12 V, 720 ohm +-10%
  operates: 70%
  releases: 10%
  range: 75% .. 125%
  rise: 20 degC
  inductance: 0.9 H
  operate-time: 6 ms
  release-time: 4 ms
  contacts: changeover
  contact-rating: 2 A @ 30 V
  minimum-load: 10 uA @ 10 mV
  suppressor: diode
}

unit ctl : Controller in plant
unit panel : Panel in hut
relay K1 : Relay in plant "Held in while all is well"
resistor RE = 2k2 +-1%
resistor RA = 4k7 +-1%
load P1 = 6 W @ 12 V in plant "Beacon" {
  style: resistive
  works: 10 V .. 15 V
  inrush: 150% @ 10 ms
}
cable W1 {
  cores: GN, YE
  size: 0.22 mm2
  length: 40 m
  from: hut
  to: plant
  route: indoor
}
spare ctl.GND, K1.12

program ctl.Q1 rest = on

wire ctl.V12 -- K1.A1-A2 -- ctl.Q1
wire ctl.V12 -- P1 -- ctl.Q2
wire panel.Z1 -- W1.GN -- K1.11-14 -- RE -- W1.YE -- panel.ZC
wire K1.11 -- RA -- K1.14

case alarm "The controller reports" {
  turn ctl.Q1 off
  turn ctl.Q2 on for 90 s
  expect panel.Z1 alarm within 1 s
  expect P1 on
}
case supply-lost "The controller loses its supply" {
  turn ctl off
  expect panel.Z1 alarm within 1 s
}
`;
