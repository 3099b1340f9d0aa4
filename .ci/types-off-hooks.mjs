import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const compilerOptions = {
  target: ts.ScriptTarget.ES2023,
  module: ts.ModuleKind.ESNext,
  verbatimModuleSyntax: true,
};

export async function load(url, context, next) {
  if (!url.startsWith('file:') || !url.endsWith('.ts')) return next(url, context);
  const code = await readFile(fileURLToPath(url), 'utf8');
  const { outputText } = ts.transpileModule(code, { compilerOptions });
  return { format: 'module', source: outputText, shortCircuit: true };
}
