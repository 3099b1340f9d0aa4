import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const root = fileURLToPath(new URL('../../dashboard/web/src', import.meta.url));

export interface PageText {
  /** `floor/floor.tsx`. */
  file: string;
  line: number;
  text: string;
}

/** Attributes and properties that a person reads or hears. */
const spokenNames = new Set([
  ...['aria-label', 'title', 'placeholder', 'alt', 'label', 'legend', 'hint', 'summary'],
  ...['says', 'words', 'xLabel', 'yLabel', 'add', 'remove', 'when'],
]);

/** Units, signs, names of sizes, the product's own name: the same in every language. */
const sameEverywhere = new Set([
  ...['V', 'A', 'W', 'Hz', 'kHz', 's', 'ms', 'm', 'ft', 'mm', 'AWG', 'kW', 'VA', 'Ω', 'mΩ', 'min'],
  // Letters of a rating plate, after IEC 60974-1: U₁, I₁max, I₁eff, X.
  ...['U', 'I', 'max', 'eff', 'X'],
  ...['Stiffline', 'DC', 'RMS', 'j', 'h', 'N', 'N·m', 'in', 'CSV', 'COMTRADE', 'JSON'],
]);

/** True where a text has a word in it that is of a language. */
export function hasWords(text: string): boolean {
  const words = text.match(/\p{L}+(·\p{L}+)?/gu) ?? [];
  return words.some((word) => !sameEverywhere.has(word));
}

/** What the page's own code says, where it should ask `words`. */
export function pageTexts(): PageText[] {
  const files = (readdirSync(root, { recursive: true }) as string[]).filter((name) =>
    /\.tsx?$/.test(name),
  );
  return files.flatMap((name) => textsIn(relative(root, join(root, name)), read(name)));
}

const read = (name: string) => readFileSync(join(root, name), 'utf8');

export function textsIn(file: string, code: string): PageText[] {
  const kind = file.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const source = ts.createSourceFile(file, code, ts.ScriptTarget.ES2023, true, kind);
  const found: PageText[] = [];
  const take = (node: ts.Node, text: string) => {
    if (!hasWords(text)) return;
    const { line } = source.getLineAndCharacterOfPosition(node.getStart(source));
    found.push({ file, line: line + 1, text: text.trim() });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node)) take(node, node.text);
    else if (isLiteral(node) && isRead(node)) take(node, literal(node));
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

const isLiteral = (node: ts.Node): node is ts.StringLiteralLike | ts.TemplateExpression =>
  ts.isStringLiteralLike(node) || ts.isTemplateExpression(node);

const literal = (node: ts.StringLiteralLike | ts.TemplateExpression): string =>
  ts.isTemplateExpression(node)
    ? [node.head, ...node.templateSpans.map((span) => span.literal)].map((at) => at.text).join(' ')
    : node.text;

/** A literal that a person reads: a child of an element, a spoken attribute, or a sentence. */
function isRead(node: ts.StringLiteralLike | ts.TemplateExpression): boolean {
  const place = placeOf(node);
  if (ts.isImportDeclaration(place) || ts.isLiteralTypeNode(place)) return false;
  if (ts.isJsxExpression(place)) return readIn(place.parent);
  if (ts.isJsxAttribute(place)) return spokenNames.has(place.name.getText());
  if (ts.isPropertyAssignment(place) && spokenNames.has(nameOf(place))) return true;
  if (ts.isThrowStatement(place.parent ?? place) && !ts.isNewExpression(place)) return false;
  return isSentence(literal(node));
}

const nameOf = ({ name }: ts.PropertyAssignment) => name.getText().replace(/['"]/g, '');

const readIn = (parent: ts.Node): boolean =>
  ts.isJsxAttribute(parent) ? spokenNames.has(parent.name.getText()) : true;

/** Past brackets, choices and joints: whatever is taken, it lands there. */
function placeOf(node: ts.Node): ts.Node {
  let at = node.parent;
  while (
    ts.isParenthesizedExpression(at) ||
    (ts.isConditionalExpression(at) && at.condition !== node) ||
    (ts.isBinaryExpression(at) && !isComparison(at))
  ) {
    node = at;
    at = at.parent;
  }
  return at;
}

const isComparison = ({ operatorToken: { kind } }: ts.BinaryExpression): boolean =>
  kind === ts.SyntaxKind.EqualsEqualsEqualsToken ||
  kind === ts.SyntaxKind.ExclamationEqualsEqualsToken ||
  kind === ts.SyntaxKind.InKeyword;

/** A capital and a second word, or words with a full stop: no program calls a thing so. */
const isSentence = (text: string): boolean =>
  /^\p{Lu}[\p{L}’']+ \p{L}/u.test(text.trim()) || /\p{L} .*\p{L}{2}\.$/u.test(text.trim());
