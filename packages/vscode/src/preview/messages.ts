/** What the preview's page and the extension say to each other. What comes from the page is checked before it is used. */

export interface Point {
  readonly line: number;
  readonly character: number;
}

/** A stretch of a text, counted from nought as the protocol does. */
export interface Place {
  readonly uri: string;
  readonly start: Point;
  readonly end: Point;
}

/** What the page may ask the language server for; each is the request `couplet/<name>`. */
export const ASKABLE = ['drawing', 'timeLine', 'bands', 'runtime', 'pointed'] as const;

export type Askable = (typeof ASKABLE)[number];

export type FromPage =
  /** It can hear: it was just loaded, or shown again. */
  | { readonly type: 'ready' }
  | { readonly type: 'ask'; readonly id: number; readonly what: Askable; readonly params: Record<string, unknown> }
  | { readonly type: 'reveal'; readonly place: Place };

export type ToPage =
  /** The file whose site is to be shown, and the cursor in it; none while no file of the language was open. */
  | { readonly type: 'file'; readonly uri?: string; readonly position?: Point }
  /** The server has computed the sites anew. */
  | { readonly type: 'checked' }
  | { readonly type: 'cursor'; readonly uri: string; readonly position: Point }
  | { readonly type: 'answer'; readonly id: number; readonly result: unknown }
  | { readonly type: 'failed'; readonly id: number; readonly reason: string };

/** A message of the page, where it has the shape of one. */
export function fromPage(message: unknown): FromPage | undefined {
  if (!isRecord(message)) return undefined;
  switch (message.type) {
    case 'ready':
      return { type: 'ready' };
    case 'ask': {
      const { id, params, what } = message;
      const known = ASKABLE.find((each) => each === what);
      return typeof id === 'number' && known !== undefined && isRecord(params)
        ? { type: 'ask', id, what: known, params }
        : undefined;
    }
    case 'reveal':
      return isPlace(message.place) ? { type: 'reveal', place: message.place } : undefined;
    default:
      return undefined;
  }
}

function isPlace(value: unknown): value is Place {
  return isRecord(value) && typeof value.uri === 'string' && isPoint(value.start) && isPoint(value.end);
}

function isPoint(value: unknown): value is Point {
  return isRecord(value) && isCount(value.line) && isCount(value.character);
}

function isCount(value: unknown): boolean {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
