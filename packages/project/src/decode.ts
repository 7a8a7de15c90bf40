/** From bytes to text, or to the one finding that says why a file cannot be read further. */
import type { TextPlace } from '@couplet/language';
import type { ProjectFinding } from './finding.ts';
import type { Content } from './reader.ts';

/** Larger files are not read: a site of ten thousand couplings in several files stays far below it a file. */
export const MOST_BYTES = 2_000_000;

export interface Decoded {
  /** Absent where the file could not be read further. */
  readonly text?: string;
  readonly finding?: ProjectFinding;
}

/** The text of a file. `content` may hold up to one byte more than `mostBytes`. */
export function decode(uri: string, content: Content, mostBytes: number = MOST_BYTES): Decoded {
  switch (content.sort) {
    case 'missing':
      return { finding: fileFinding(uri, 'file-missing', 'There is no such file.') };
    case 'unreadable':
      return { finding: fileFinding(uri, 'file-unreadable', `This file cannot be read: ${content.reason}.`) };
    case 'text':
      return content.text.length > mostBytes ? { finding: tooLarge(uri, mostBytes) } : checked(uri, content.text);
    case 'bytes':
      return content.bytes.length > mostBytes ? { finding: tooLarge(uri, mostBytes) } : fromBytes(uri, content.bytes);
  }
}

function fromBytes(uri: string, bytes: Uint8Array): Decoded {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    return {
      finding: fileFinding(uri, 'file-not-utf8', 'This file is written in UTF-16; save it as UTF-8. It is not read.'),
    };
  }
  const bad = firstBadByte(bytes);
  const nul = bytes.indexOf(0);
  if (nul >= 0 && (bad < 0 || nul < bad)) return { finding: nulFinding(uri, text(bytes.subarray(0, nul))) };
  if (bad >= 0) {
    const byte = (bytes[bad] ?? 0).toString(16).toUpperCase().padStart(2, '0');
    const message = `This file is not UTF-8: byte ${byte} (hexadecimal) here belongs to no character. Save it as UTF-8. It is not read.`;
    return { finding: fileFinding(uri, 'file-not-utf8', message, endOf(text(bytes.subarray(0, bad)))) };
  }
  return checked(uri, text(bytes));
}

function checked(uri: string, text: string): Decoded {
  const nul = text.indexOf('\0');
  if (nul >= 0) return { finding: nulFinding(uri, text.slice(0, nul)) };
  if (text.trim() === '') {
    const message = 'This file is empty: there is nothing to check in it.';
    return { text, finding: { ...fileFinding(uri, 'file-empty', message), severity: 'warning' } };
  }
  return { text };
}

function tooLarge(uri: string, mostBytes: number): ProjectFinding {
  const most = mostBytes >= 1e6 ? `${mostBytes / 1e6} MB` : `${mostBytes} bytes`;
  const message = `This file is larger than ${most} and is not read. Divide the site into several files joined by 'use'.`;
  return fileFinding(uri, 'file-too-large', message);
}

function nulFinding(uri: string, before: string): ProjectFinding {
  const message = 'This file holds a NUL character here, so it is no text. It is not read.';
  return fileFinding(uri, 'file-holds-nul', message, endOf(before));
}

function fileFinding(uri: string, code: string, message: string, at = { line: 0, character: 0 }): ProjectFinding {
  const place: TextPlace = { uri, start: at, end: at };
  return { code, severity: 'error', message, place, related: [], figures: [], roots: [] };
}

/** Valid UTF-8 only; a byte-order mark is dropped. */
function text(bytes: Uint8Array): string {
  return new TextDecoder('utf-8').decode(bytes);
}

function endOf(before: string): { line: number; character: number } {
  const lines = before.split(/\r\n|\r|\n/);
  return { line: lines.length - 1, character: lines[lines.length - 1]?.length ?? 0 };
}

/**
 * Offset of the first byte that is no part of well-formed UTF-8, or −1.
 * Source: The Unicode Standard, table 3-7 (well-formed UTF-8 byte sequences), from memory.
 */
function firstBadByte(bytes: Uint8Array): number {
  let at = 0;
  while (at < bytes.length) {
    const lead = bytes[at] as number;
    if (lead < 0x80) {
      at += 1;
      continue;
    }
    const length =
      lead >= 0xc2 && lead <= 0xdf ? 2 : lead >= 0xe0 && lead <= 0xef ? 3 : lead >= 0xf0 && lead <= 0xf4 ? 4 : 0;
    if (length === 0 || at + length > bytes.length) return at;
    const second = bytes[at + 1] as number;
    const least = lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
    const most = lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
    if (second < least || second > most) return at;
    for (let next = at + 2; next < at + length; next++) {
      if (((bytes[next] as number) & 0xc0) !== 0x80) return at;
    }
    at += length;
  }
  return -1;
}
