/** The words of single faults, as the language has them. One row a word. */

/** What fails in use, and what was built wrongly. */
export type FaultGroup = 'service' | 'fitting';

export interface FaultWordRow {
  readonly word: string;
  readonly group: FaultGroup;
  /** The fault as a technician says it, after the part's name; `other` is named behind it. */
  readonly says: string;
}

export const FAULT_WORDS = [
  { word: 'cut', group: 'service', says: 'cut' },
  { word: 'shorted', group: 'service', says: 'shorted to' },
  { word: 'earthed', group: 'service', says: 'earthed' },
  { word: 'missing', group: 'service', says: 'missing' },
  { word: 'linked', group: 'service', says: 'linked' },
  { word: 'welded', group: 'service', says: 'welded' },
  { word: 'never-closes', group: 'service', says: 'never closes' },
  { word: 'coil-open', group: 'service', says: 'coil open' },
  { word: 'coil-shorted', group: 'service', says: 'coil shorted' },
  { word: 'stuck-on', group: 'service', says: 'stuck on' },
  { word: 'stuck-off', group: 'service', says: 'stuck off' },
  { word: 'lost', group: 'service', says: 'lost' },
  { word: 'blown', group: 'service', says: 'blown' },
  { word: 'reversed', group: 'fitting', says: 'reversed' },
  { word: 'swapped', group: 'fitting', says: 'swapped with' },
  { word: 'at-other-end', group: 'fitting', says: 'fitted at the other end' },
  { word: 'a-decade-low', group: 'fitting', says: 'a decade low' },
  { word: 'a-decade-high', group: 'fitting', says: 'a decade high' },
] as const satisfies readonly FaultWordRow[];

export type FaultWord = (typeof FAULT_WORDS)[number]['word'];

export function faultWord(word: FaultWord): FaultWordRow {
  return FAULT_WORDS.find((row) => row.word === word)!;
}
