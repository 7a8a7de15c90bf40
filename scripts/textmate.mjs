/** The TextMate grammar: colours for editors that do not ask the language server. */

/** The words between quotes that one rule of the Langium grammar admits. */
function wordsOf(grammar, rule) {
  const body = new RegExp(`^${rule} returns string:([^;]*);`, 'm').exec(grammar)?.[1];
  if (body === undefined) throw new Error(`The grammar has no rule '${rule}'`);
  return [...body.matchAll(/'([a-z]+)'/g)].map((match) => match[1]);
}

function anyOf(words) {
  return [...new Set(words)].sort().join('|');
}

export function textMateGrammar(grammar) {
  const kinds = [...wordsOf(grammar, 'PartKind'), ...wordsOf(grammar, 'Kind'), ...wordsOf(grammar, 'MemberKind')];
  const soft = wordsOf(grammar, 'SoftWord');
  const syntax = grammar.slice(0, grammar.indexOf('// ---- words ----'));
  const statements = [...syntax.matchAll(/^\s*'([a-z]+)'|: *'([a-z]+)'/gm)].map((match) => match[1] ?? match[2]);
  const keywords = statements.filter((word) => !kinds.includes(word) && !soft.includes(word));
  const word = '[\\p{L}_][\\p{L}_0-9]*(?:-[\\p{L}_0-9]+)*';
  return {
    name: 'Couplet',
    scopeName: 'source.couplet',
    fileTypes: ['couplet'],
    patterns: [
      { include: '#comment' },
      { include: '#text' },
      { include: '#key' },
      { include: '#dotted' },
      { include: '#date' },
      { include: '#quantity' },
      { include: '#word' },
      { include: '#operator' },
    ],
    repository: {
      comment: { name: 'comment.line.double-slash.couplet', match: '//.*$' },
      text: { name: 'string.quoted.double.couplet', begin: '"', end: '"|$' },
      key: { name: 'variable.other.property.couplet', match: `${word}(?:\\+${word})*(?=[ \\t]*:)` },
      dotted: {
        match: '(\\.)([\\p{L}_0-9]+(?:[-+][\\p{L}_0-9]+)*)',
        captures: { 1: { name: 'punctuation.accessor.couplet' }, 2: { name: 'variable.other.member.couplet' } },
      },
      date: { name: 'constant.other.date.couplet', match: '\\b\\d{4}-\\d{2}-\\d{2}\\b' },
      quantity: {
        name: 'constant.numeric.couplet',
        match: '(?:\\+-|[±+\\-–−])?\\b\\d+(?:\\.\\d+)?(?:[A-Za-zΩµ°%²][A-Za-zΩµ°²0-9]*(?:/[A-Za-z]+)?)?',
      },
      word: {
        patterns: [
          { name: 'keyword.control.couplet', match: `\\b(?:${anyOf(keywords)})\\b(?!-)` },
          { name: 'storage.type.couplet', match: `\\b(?:${anyOf(kinds)})\\b(?!-)` },
          { name: 'keyword.other.couplet', match: `\\b(?:${anyOf(soft)})\\b(?!-)` },
          {
            name: 'constant.language.couplet',
            match: '\\b(?:yes|no|on|off|open|closed|operated|released|earth|rest)\\b(?!-)',
          },
        ],
      },
      operator: { name: 'keyword.operator.couplet', match: '--|\\.\\.|>=|<=|[<>@/=]' },
    },
  };
}
