/**
 * How many samples a test draws of those that it draws in full: all, or the share that COUPLET_SAMPLES asks for. Mutation
 * runs repeat a test thousands of times and ask for a few.
 */
const share = Number(process.env.COUPLET_SAMPLES ?? 1);

export function samples(inFull: number): number {
  return Math.max(1, Math.ceil(inFull * share));
}
