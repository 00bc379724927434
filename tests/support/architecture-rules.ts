import ts from 'typescript';

export interface Breach {
  readonly file: string;
  readonly rule: string;
}

/** The ring of a path: lib decides, db remembers, app shows. */
const ringOf = (path: string): 'lib' | 'db' | 'app' | null =>
  (/^(lib|db|app)\//.exec(path)?.[1] as 'lib' | 'db' | 'app' | undefined) ?? null;

const mayImport = { lib: ['lib'], db: ['lib', 'db'], app: ['lib', 'db', 'app'] } as const;

/** Packages that neither read a clock nor touch the machine. */
const purePackages = new Set(['zod', 'date-fns', 'ical-generator']);

function importsOf(source: string): string[] {
  return ts.preProcessFile(source, true, true).importedFiles.map(({ fileName }) => fileName);
}

function targetRing(file: string, specifier: string): 'lib' | 'db' | 'app' | 'outside' | 'package' {
  if (specifier.startsWith('@/')) return ringOf(specifier.slice(2)) ?? 'outside';
  if (!specifier.startsWith('.')) return 'package';
  const parts = file.split('/').slice(0, -1);
  for (const part of specifier.split('/')) {
    if (part === '..') parts.pop();
    else if (part !== '.') parts.push(part);
  }
  return ringOf(`${parts.join('/')}/`) ?? 'outside';
}

export function ringBreaches(file: string, source: string): Breach[] {
  const ring = ringOf(file);
  if (!ring) return [];
  const breaches: Breach[] = [];
  for (const specifier of importsOf(source)) {
    const target = targetRing(file, specifier);
    if (target === 'package') {
      const isPure = purePackages.has(specifier.split('/')[0] ?? '');
      if (ring === 'lib' && !isPure) breaches.push({ file, rule: `lib imports ${specifier}` });
    } else if (target === 'outside' || !(mayImport[ring] as readonly string[]).includes(target)) {
      breaches.push({ file, rule: `${ring} imports ${specifier}` });
    }
  }
  return breaches;
}

const impureGlobals = new Set([
  'process',
  'window',
  'document',
  'console',
  'setTimeout',
  'setInterval',
  'performance',
  'crypto',
  'fetch',
  'localStorage',
  'navigator',
  'Buffer',
]);

/** Names that the file itself gives: a local `window` of samples is no browser. */
function declaredNames(tree: ts.Node): Set<string> {
  const names = new Set<string>();
  const visit = (node: ts.Node): void => {
    if ((ts.isVariableDeclaration(node) || ts.isParameter(node)) && ts.isIdentifier(node.name)) {
      names.add(node.name.text);
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return names;
}

/** What makes a pure file impure: a clock, chance, the machine or the browser. */
export function purityBreaches(file: string, source: string): Breach[] {
  const breaches: Breach[] = [];
  const tree = ts.createSourceFile(file, source, ts.ScriptTarget.Latest, true);
  const declared = declaredNames(tree);
  const visit = (node: ts.Node): void => {
    if (
      ts.isNewExpression(node) &&
      node.expression.getText() === 'Date' &&
      !node.arguments?.length
    ) {
      breaches.push({ file, rule: 'new Date() without an argument' });
    }
    if (ts.isPropertyAccessExpression(node)) {
      const text = node.getText().replaceAll(/\s/g, '');
      if (text === 'Date.now' || text === 'Math.random') breaches.push({ file, rule: text });
    }
    if (
      ts.isIdentifier(node) &&
      impureGlobals.has(node.text) &&
      !declared.has(node.text) &&
      !(ts.isPropertyAccessExpression(node.parent) && node.parent.name === node) &&
      !ts.isPropertyAssignment(node.parent) &&
      !ts.isPropertySignature(node.parent)
    ) {
      breaches.push({ file, rule: node.text });
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return breaches;
}

/** A write that forgets who asks, or leaves no trace, is a defect whatever else it does. */
export function writeBreaches(file: string, source: string, right = 'requirePermission'): Breach[] {
  const calls = new Set(
    [...source.matchAll(/\b([A-Za-z]+)\(/g)]
      .map(([, name]) => name)
      .filter((name) => name !== undefined),
  );
  const breaches: Breach[] = [];
  if (!calls.has(right)) breaches.push({ file, rule: `write without ${right}` });
  if (!calls.has('appendToLedger') && !calls.has('appendToLedgerAtOnce')) {
    breaches.push({ file, rule: 'write without appendToLedger' });
  }
  return breaches;
}
