// docs/result-fields.md from the types of src/vocabulary: what they say, said once.
// The kernel's own compiler reads them: TypeScript 7 has no interface for scripts.
import ts from '@tslab/typescript-for-tslab';

const ROOTS = [
  { type: 'Result', heading: 'result.json', links: ['Factors'] },
  { type: 'Factors', heading: 'factors.json', links: [] },
];
const WORDS = { string: 'text', number: 'number', boolean: '`true` or `false`' };

/**
 * @typedef {{ names: string[], is: string, held: string | null, meaning: string }} Field fields that share a
 * sentence stand together; `held`: the record that the field holds
 * @typedef {{ name: string, about: string, fields: Field[] }} FieldRecord
 */

/**
 * The records of both files, each where it is first met.
 *
 * @param {readonly string[]} sources texts of the files of src/vocabulary
 * @returns {{ heading: string, records: FieldRecord[] }[]}
 * @throws Error for a field without a sentence
 */
export function fieldRecords(sources) {
  const known = new Map();
  for (const source of sources) {
    ts.createSourceFile('vocabulary.ts', source, ts.ScriptTarget.ES2022, true).forEachChild(
      (node) => {
        if (ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node))
          known.set(node.name.text, node);
      },
    );
  }
  const seen = new Set();
  return ROOTS.map(({ type, heading }) => {
    const records = [];
    const wanted = [{ name: nameOf(type), node: known.get(type) }];
    for (let one = wanted.shift(); one !== undefined; one = wanted.shift()) {
      if (seen.has(one.name)) continue;
      seen.add(one.name);
      const { fields, held } = fieldsOf(one, known);
      records.push({ name: one.name, about: docOf(one.node), fields });
      wanted.unshift(...held);
    }
    return { heading, records };
  });
}

/** @param {readonly string[]} sources */
export function resultFieldsPage(sources) {
  const parts = fieldRecords(sources).map(({ heading, records }) =>
    [`## ${heading}`, ...records.flatMap(recordLines)].join('\n\n'),
  );
  return `${[INTRODUCTION, ...parts].join('\n\n')}\n`;
}

const INTRODUCTION = `# Fields of result.json and factors.json

Made by \`npm run fields\` from the types in \`src/vocabulary\`, where each field has its sentence.

result.json is what \`analyse\` returns, all of it. factors.json is what the correction step reads, and all that it reads: \`parseFactors\` takes its text, or what \`JSON.parse\` made of it, and checks it, which a plain \`JSON.parse\` does not; wavelengths without a factor are not in it. Files of \`meterpair.factors/1\` are read as one level of power a wavelength, without a date; those of \`meterpair.result/1\` had \`seed\` and \`monte_carlo\` besides.

The same study and earlier factors give the same bytes; nothing is drawn at random. Fields may be added in later versions; none is renamed. Relative quantities are fractions, except in fields whose name ends in \`percent\` or whose record says so. A difference is candidate − reference, a ratio candidate ÷ reference, a factor K reference ÷ candidate. Intervals are two-sided at the study's \`confidence\`, but for those that state their own. A number that the data cannot give is \`null\`, and a \`why\` beside or above it, or a warning, says what it would need. Degrees of freedom of 1000000 stand for infinity. In the second column, *italics* name a record that has a table of its own.`;

function recordLines({ name, about, fields }) {
  const rows = fields.map(
    ({ names, is, meaning }) =>
      `| ${names.map((one) => `\`${one}\``).join(', ')} | ${is} | ${meaning} |`,
  );
  const table = ['| field | is | meaning |', '|---|---|---|', ...rows].join('\n');
  return [`### ${name}`, ...(about === '' ? [] : [about]), table];
}

/** `SeriesResult` → `series`. */
function nameOf(type) {
  const words = type.replace(/(?<=.)Result$/, '').replace(/(?<=[a-z])(?=[A-Z])/g, ' ');
  return words.toLowerCase();
}

function fieldsOf({ name, node }, known) {
  const fields = [];
  const held = [];
  for (const member of membersOf(node, known)) {
    const field = member.name.text;
    const found = typeOf(member.type, known, `${name}: ${field}`);
    const is = `${found.is}${member.questionToken === undefined ? '' : ', may be missing'}`;
    if (found.node !== null) held.push({ name: found.held, node: found.node });
    const meaning = docOf(member);
    const above = fields.at(-1);
    if (meaning !== '') fields.push({ names: [field], is, held: found.held, meaning });
    else if (above?.is === is) above.names.push(field);
    else throw new Error(`${name}.${field} has no sentence in src/vocabulary.`);
  }
  return { fields, held };
}

function membersOf(node, known) {
  const inherited = (node.heritageClauses ?? []).flatMap(({ types }) =>
    types.flatMap(({ expression }) => membersOf(known.get(expression.text), known)),
  );
  return [...inherited, ...node.members];
}

/** What a type is in words; `held` and `node`: the record in it. */
function typeOf(node, known, place) {
  const plain = (is) => ({ is, held: null, node: null });
  if (ts.isTypeOperatorNode(node) || ts.isParenthesizedTypeNode(node))
    return typeOf(node.type, known, place);
  if (ts.isArrayTypeNode(node)) {
    const one = typeOf(node.elementType, known, place);
    const texts = one.is === 'text' ? 'texts' : one.is === 'number' ? 'numbers' : one.is;
    return { ...one, is: `list of ${texts}` };
  }
  if (ts.isTupleTypeNode(node)) {
    return plain(node.getText().includes('null') ? 'two numbers or `null`s' : 'two numbers');
  }
  if (ts.isTypeLiteralNode(node)) return { is: `*${place}*`, held: place, node };
  if (ts.isLiteralTypeNode(node)) {
    return plain(`\`${ts.isStringLiteral(node.literal) ? node.literal.text : node.getText()}\``);
  }
  if (ts.isUnionTypeNode(node)) {
    const parts = node.types.map((part) => typeOf(part, known, place));
    const record = parts.find((part) => part.node !== null) ?? plain('');
    return { ...record, is: listed(parts.flatMap((part) => part.is.split(/, | or (?=`)/))) };
  }
  if (ts.isIndexedAccessTypeNode(node)) {
    const owner = known.get(node.objectType.typeName.text);
    const field = membersOf(owner, known).find(
      (one) => one.name.text === node.indexType.literal.text,
    );
    return typeOf(field.type, known, place);
  }
  if (!ts.isTypeReferenceNode(node)) return plain(WORDS[node.getText()]);
  const to = known.get(node.typeName.text);
  if (ts.isTypeAliasDeclaration(to)) return typeOf(to.type, known, place);
  const held = nameOf(node.typeName.text);
  return { is: `*${held}*`, held, node: to };
}

const listed = (words) =>
  words.length === 1 ? words[0] : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;

/** The sentence before a node, on one line, with links to the pages that it names. */
function docOf(node) {
  const text = ts.getTextOfJSDocComment(node.jsDoc?.at(-1)?.comment) ?? '';
  return text
    .replaceAll(/\s*\n\s*/g, ' ')
    .replaceAll('|', '\\|')
    .replaceAll(/docs\/(methods\/[\w-]+\.md)/g, '[$1]($1)')
    .trim();
}
