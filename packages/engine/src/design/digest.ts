/**
 * A digest of plain data: equal data in equal numbers give equal digests, and two that differ give the same one about once
 * in 2⁶⁴ pairs. References are taken as they are renumbered, so that the digest does not hang on where data stands.
 * The mixing steps are those of MurmurHash3 (Austin Appleby, public domain), in two lanes.
 */
import { REFERENCES, type Renumbering } from './references.ts';

/** Keys of data have one number in all digests: numbered anew in each, two that are met first would be taken for one. */
const numberOfKey = new Map<string, number>();

export class Digest {
  private one = 0x9747b28c | 0;
  private other = 0x3c6ef372 | 0;
  private readonly double = new Float64Array(1);
  private readonly words = new Uint32Array(this.double.buffer);

  /** The digest so far, as text; the next begins anew. */
  take(): string {
    const text = `${finished(this.one).toString(36)} ${finished(this.other).toString(36)}`;
    this.one = 0x9747b28c | 0;
    this.other = 0x3c6ef372 | 0;
    return text;
  }

  /** Adds data, its references renumbered. What is undefined counts as absent. */
  add(data: unknown, by: Renumbering): void {
    if (typeof data === 'number') this.number(data);
    else if (typeof data === 'string') this.text(data);
    else if (typeof data !== 'object' || data === null) this.word(data === true ? 1 : 2);
    else if (Array.isArray(data)) {
      this.word(data.length);
      for (const item of data) this.add(item, by);
    } else this.properties(data as Record<string, unknown>, by);
  }

  private properties(data: Record<string, unknown>, by: Renumbering): void {
    this.word(3);
    for (const key in data) {
      const value = data[key];
      // An `id` is the place in a list, which the list itself says.
      if (value === undefined || key === 'id') continue;
      this.word(this.name(key));
      const sort = REFERENCES.get(key);
      if (sort === undefined) this.add(value, by);
      else if (typeof value === 'number') this.word(by[sort](value));
      else if (Array.isArray(value) && typeof value[0] === 'number') {
        this.word(value.length);
        for (const number of value as number[]) this.word(by[sort](number));
      } else this.add(value, by);
    }
    this.word(4);
  }

  private name(key: string): number {
    let known = numberOfKey.get(key);
    if (known === undefined) {
      known = 5 + numberOfKey.size;
      numberOfKey.set(key, known);
    }
    return known;
  }

  private number(value: number): void {
    this.double[0] = value;
    this.word(this.words[0]!);
    this.word(this.words[1]!);
  }

  private text(value: string): void {
    this.word(value.length);
    for (let index = 0; index < value.length; index++) this.word(value.charCodeAt(index));
  }

  private word(word: number): void {
    let k = Math.imul(word, 0xcc9e2d51);
    k = Math.imul((k << 15) | (k >>> 17), 0x1b873593);
    const one = this.one ^ k;
    this.one = (Math.imul((one << 13) | (one >>> 19), 5) + 0xe6546b64) | 0;
    k = Math.imul(word, 0x85ebca6b);
    k = Math.imul((k << 16) | (k >>> 16), 0xc2b2ae35);
    const other = this.other ^ k;
    this.other = (Math.imul((other << 17) | (other >>> 15), 5) + 0x38495ab5) | 0;
  }
}

function finished(lane: number): number {
  let h = lane;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
