// Generated from packages/language/library/builtin.couplet by scripts/generate.mjs. Not to be edited.
export const BUILTIN_LIBRARY: string = [
  "// What every site knows without saying so. A kind's own terminals are found in the type named for the kind.",
  "",
].join('\n');
