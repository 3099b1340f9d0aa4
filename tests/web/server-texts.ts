import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** What the server says without a name: why it refuses, what is wrong with a value, questions. */
export function serverTexts(): string[] {
  const files = [...filesIn('dashboard/server'), ...filesIn('shared/protocol')];
  return [...new Set(files.flatMap(textsOf))];
}

/**
 * Every wording in the code that reads recordings, whole errors and parts of them. What writes them
 * has nothing to tell.
 */
export function recordingTexts(): string[] {
  const files = filesIn('shared/recording').filter((file) => !file.endsWith('-writer.ts'));
  return [...new Set(files.flatMap(wordingsOf))];
}

const filesIn = (folder: string): string[] =>
  (readdirSync(join(root, folder), { recursive: true }) as string[])
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join(root, folder, name));

const parsed = (file: string): ts.SourceFile =>
  ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.ES2023, true);

function textsOf(file: string): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isNewExpression(node) && node.expression.getText() === 'ProblemError')
      found.push(...literalsIn(node.arguments![1]!));
    else if (ts.isCallExpression(node) && node.expression.getText() === 'sendProblem')
      found.push(...literalsIn(node.arguments[2]!));
    else if (isFault(node)) found.push(...literalsIn(node.initializer));
    else if (isQuestion(node)) found.push(...literalsIn(node.arguments[0]!));
    ts.forEachChild(node, visit);
  };
  visit(parsed(file));
  return found;
}

function wordingsOf(file: string): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node, ofWhole: boolean): void => {
    const whole = ts.isConditionalExpression(node) ? '' : (literalsIn(node)[0] ?? '');
    if (!ofWhole && isWording.test(whole)) found.push(whole);
    const added = whole !== '' && ts.isBinaryExpression(node);
    ts.forEachChild(node, (each) => visit(each, added));
  };
  visit(parsed(file), false);
  return found;
}

/** Two words, or one beside what varies. */
const isWording = /\p{Ll}{2} [\p{L}{"]/u;

/** `says` beside a `path` or a `no`. */
const isFault = (node: ts.Node): node is ts.PropertyAssignment =>
  ts.isPropertyAssignment(node) &&
  node.name.getText() === 'says' &&
  node.parent.properties.some(({ name }) => ['path', 'no'].includes(name?.getText() ?? ''));

/** `says.push(…)`, `asked.push(…)`. */
const isQuestion = (node: ts.Node): node is ts.CallExpression =>
  ts.isCallExpression(node) && /^(says|asked)\.push$/.test(node.expression.getText());

/** Literals added to one another are one text; "{}" stands for what varies. */
function literalsIn(node: ts.Node): string[] {
  if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.PlusToken) {
    const [left = '', right = ''] = [node.left, node.right].map((each) => literalsIn(each)[0]);
    return [left + right];
  }
  if (ts.isConditionalExpression(node))
    return [node.whenTrue, node.whenFalse].flatMap((each) => literalsIn(each));
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (!ts.isTemplateExpression(node)) return [];
  return [node.head.text + node.templateSpans.map(({ literal }) => `{}${literal.text}`).join('')];
}
