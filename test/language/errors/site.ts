/** What stands below every text of the catalogue: parts for it to name. */
export const SITE = `
place pit
unit u {
  common G { earthed: no }
  output Q1 { style: sink  return: G }
  scheme triple { short: below 1k  normal: 1k .. 2k  alarm: above 2k }
  zone Z1 .. Z2 { feed: 5 V via 4k7  return: G  scheme: triple }
}
type Small : relay { contacts: changeover }
relay K1 : Small
switch S1 { contacts: break }
resistor R1 = 1k
cable W1 { cores: GN, YE }
battery G2
`;
