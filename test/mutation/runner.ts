/**
 * A test runner for Stryker that stays in its process. A new vitest run for each of some twenty thousand mutants would take
 * a day; here a mutant costs the evaluation of one script and the tests that reach it, the quickest first.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { Script } from 'node:vm';
import type { InstrumenterContext } from '@stryker-mutator/api/core';
import { declareClassPlugin, PluginKind } from '@stryker-mutator/api/plugin';
import {
  type DryRunResult,
  DryRunStatus,
  determineHitLimitReached,
  type MutantRunOptions,
  type MutantRunResult,
  MutantRunStatus,
  type TestResult,
  type TestRunner,
  TestStatus,
  toMutantRunResult,
} from '@stryker-mutator/api/test-runner';
import '../support/seed.ts';
import { type Bundle, bundleOf } from './bundle.ts';
import { type Case, Collector, run } from './harness.ts';
import { isDrawn, notDrawn } from './table.ts';

/** Seconds of processor time that a test may take beyond five times what it takes unmutated. */
const PATIENCE = 1;
const TIMES = '.test-times.json';

/** What the instrumented code reads and writes, and what a script of ours is to do. */
type Shared = InstrumenterContext & { work?: () => void };

const world = globalThis as { __stryker__?: Shared };
world.__stryker__ ??= {};
const shared = world.__stryker__;

const processorSeconds = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

/** Runs the work and stops it when it has used up its processor time; a busy machine does not stop it. @returns whether it ended */
function within(seconds: number, work: () => void): boolean {
  const entry = new Script('globalThis.__stryker__.work()');
  let wall = seconds * 1.5;
  for (;;) {
    shared.work = work;
    shared.hitCount = 0;
    const before = processorSeconds();
    try {
      entry.runInThisContext({ timeout: Math.ceil(wall * 1000) });
      return true;
    } catch (error) {
      if ((error as { code?: string }).code !== 'ERR_SCRIPT_EXECUTION_TIMEOUT') throw error;
      if (processorSeconds() - before >= seconds) return false;
      wall *= 4;
    }
  }
}

class InProcessRunner implements TestRunner {
  private readonly files = (process.env.COUPLET_MUTATION_TESTS ?? '').split(',');
  private readonly oneIn = Number(process.env.COUPLET_MUTATION_ONE_IN ?? 1);
  private readonly root = process.cwd();
  private readonly seconds = new Map<string, number>();
  private bundle!: Bundle;

  capabilities() {
    return { reloadEnvironment: true };
  }

  async init(): Promise<void> {
    this.bundle = await bundleOf(this.root, this.files);
    const times = join(this.root, TIMES);
    if (!existsSync(times)) return;
    for (const [id, seconds] of JSON.parse(readFileSync(times, 'utf8'))) this.seconds.set(id, seconds);
  }

  async dryRun(): Promise<DryRunResult> {
    shared.activeMutant = undefined;
    shared.hitLimit = undefined;
    const tests = this.cases(this.files).map((one) => {
      shared.currentTestId = one.id;
      const from = performance.now();
      const result = this.resultOf(one);
      this.seconds.set(one.id, (performance.now() - from) / 1000);
      return { ...result, timeSpentMs: performance.now() - from };
    });
    shared.currentTestId = undefined;
    writeFileSync(join(this.root, TIMES), JSON.stringify([...this.seconds]));
    return { status: DryRunStatus.Complete, tests, mutantCoverage: shared.mutantCoverage };
  }

  async mutantRun(options: MutantRunOptions): Promise<MutantRunResult> {
    if (!isDrawn(options.activeMutant, 0, this.oneIn)) {
      return { status: MutantRunStatus.Error, errorMessage: notDrawn(this.oneIn) };
    }
    const wanted = options.testFilter && new Set(options.testFilter);
    const files = this.files.filter((file) => !wanted || options.testFilter?.some((id) => id.startsWith(`${file}#`)));
    shared.hitLimit = options.hitLimit;
    shared.activeMutant = options.mutantActivation === 'static' ? options.activeMutant.id : undefined;
    let cases: Case[] = [];
    try {
      if (!within(PATIENCE, () => (cases = this.cases(files)))) return this.timeout();
    } catch (error) {
      return toMutantRunResult({ status: DryRunStatus.Complete, tests: [this.unloaded(files[0]!, String(error))] });
    }
    shared.activeMutant = options.activeMutant.id;
    const chosen = cases.filter(({ id }) => !wanted || wanted.has(id));
    const tests: TestResult[] = [];
    for (const one of chosen.sort((a, b) => this.secondsOf(a) - this.secondsOf(b))) {
      let result: TestResult | undefined;
      const ended = within(PATIENCE + 5 * this.secondsOf(one), () => (result = this.resultOf(one)));
      const limited = determineHitLimitReached(shared.hitCount, options.hitLimit);
      if (limited) return toMutantRunResult(limited);
      if (!ended) return this.timeout();
      tests.push(result!);
      if (result?.status === TestStatus.Failed && !options.disableBail) break;
    }
    return toMutantRunResult({ status: DryRunStatus.Complete, tests });
  }

  private timeout(): MutantRunResult {
    return toMutantRunResult({ status: DryRunStatus.Timeout, reason: 'processor time used up' });
  }

  /** A mutant with which the files do not even load is a mutant that their tests have caught. */
  private unloaded(file: string, failureMessage: string): TestResult {
    const [id] = [...this.seconds.keys()].filter((known) => known.startsWith(`${file}#`));
    return {
      id: id ?? file,
      name: file,
      fileName: join(this.root, file),
      timeSpentMs: 0,
      status: TestStatus.Failed,
      failureMessage,
    };
  }

  private secondsOf(one: Case): number {
    return this.seconds.get(one.id) ?? 0;
  }

  private cases(files: readonly string[]): Case[] {
    const collector = new Collector();
    const thunks = this.bundle(collector.require);
    for (const file of files) collector.collect(file, thunks[file]!);
    return collector.cases;
  }

  private resultOf(one: Case): TestResult {
    const { id, name } = one;
    const plain = { id, name, fileName: join(this.root, one.file), timeSpentMs: 0 };
    try {
      run(one);
      return { ...plain, status: TestStatus.Success };
    } catch (error) {
      if ((error as { code?: string }).code === 'ERR_SCRIPT_EXECUTION_TIMEOUT') throw error;
      return { ...plain, status: TestStatus.Failed, failureMessage: String((error as Error)?.message ?? error) };
    }
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, 'in-process', InProcessRunner)];
