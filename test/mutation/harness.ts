/**
 * The part of vitest's interface that the engine's tests use, run in this process and without waiting: a test costs what its
 * own statements cost. `expect` is vitest's own. A test that hands back a promise is refused, so that none passes unfinished.
 */
import { createRequire } from 'node:module';
import { format } from 'node:util';
import { expect } from 'vitest';
import { isTooSlow } from './folders.ts';

export interface Case {
  /** Unique among the cases of all files: file, names of the suites, name. */
  readonly id: string;
  readonly name: string;
  readonly file: string;
  readonly body: () => unknown;
}

type Body = (...values: never[]) => unknown;

const load = createRequire(import.meta.url);

/** Rows of `each` are spread when they are lists, as vitest does. */
const rowOf = (row: unknown): unknown[] => (Array.isArray(row) ? row : [row]);

/** Collects the cases of one evaluation of the bundle, file by file. */
export class Collector {
  readonly cases: Case[] = [];
  private readonly suites: string[] = [];
  private readonly taken = new Map<string, number>();
  private file = '';
  private readonly shims: Record<string, unknown>;

  constructor() {
    const describe = Object.assign((name: string, inner: () => void) => this.suite(name, inner), {
      each: (rows: readonly unknown[]) => (name: string, inner: Body) => {
        for (const row of rows) this.suite(format(name, ...rowOf(row)), () => inner(...(rowOf(row) as never[])));
      },
    });
    const test = Object.assign((name: string, body: () => unknown) => this.add(name, body), {
      each: (rows: readonly unknown[]) => (name: string, body: Body) => {
        for (const row of rows) this.add(format(name, ...rowOf(row)), () => body(...(rowOf(row) as never[])));
      },
    });
    this.shims = { vitest: { describe, test, it: test, expect } };
  }

  /** What the bundle's imports find. */
  readonly require = (name: string): unknown => this.shims[name] ?? load(name);

  /** Takes the cases of one test file. */
  collect(file: string, evaluate: () => void): void {
    this.file = file;
    evaluate();
  }

  private suite(name: string, inner: () => void): void {
    this.suites.push(name);
    inner();
    this.suites.pop();
  }

  private add(name: string, body: () => unknown): void {
    if (isTooSlow(name)) return;
    const full = `${this.file}#${[...this.suites, name].join(' > ')}`;
    const before = this.taken.get(full) ?? 0;
    this.taken.set(full, before + 1);
    const id = before === 0 ? full : `${full} (${before + 1})`;
    this.cases.push({ id, name: id.slice(this.file.length + 1), file: this.file, body });
  }
}

/** Runs one case. @throws what the test throws, or an error for a test that would have to be waited for. */
export function run(one: Case): void {
  const handed = one.body();
  if (handed instanceof Promise) {
    handed.catch(() => undefined);
    throw new Error(`${one.name} must be waited for: leave its file out of the mutation runs.`);
  }
}
