import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/**
 * Who may import whom. A room is named by its path; the longest name that fits a file is its room.
 * `packages` lists what of the outside it may use; 'node:' stands for all of Node's own modules.
 */
const rooms: Record<string, { rooms: string[]; packages: string[] }> = {
  'shared/units.ts': { rooms: [], packages: [] },
  'shared/assert.ts': { rooms: [], packages: [] },
  'shared/command': { rooms: [], packages: ['node:util', 'node:tty', 'node:fs', 'node:net'] },
  'shared/files': { rooms: ['shared/command', 'shared/recording'], packages: ['node:'] },
  'shared/metrology': { rooms: ['shared/units.ts', 'shared/assert.ts'], packages: ['fft.js'] },
  'shared/recording': { rooms: ['shared/units.ts', 'shared/assert.ts'], packages: [] },
  'shared/protocol': {
    rooms: ['shared/units.ts', 'shared/assert.ts'],
    packages: ['typebox', 'cborg'],
  },
  'shared/words': { rooms: [], packages: [] },
  'shared/rules': {
    rooms: ['shared/units.ts', 'shared/assert.ts', 'shared/protocol', 'shared/words'],
    packages: [],
  },
  'shared/watch': {
    rooms: [
      'shared/units.ts',
      'shared/assert.ts',
      'shared/metrology',
      'shared/protocol',
      'shared/rules',
    ],
    packages: [],
  },
  'simulator/hal.ts': { rooms: ['shared/units.ts'], packages: [] },
  'simulator/firmware': {
    rooms: [
      'shared/units.ts',
      'shared/assert.ts',
      'shared/metrology',
      'shared/protocol',
      'simulator/hal.ts',
    ],
    packages: [],
  },
  'simulator/electrics': { rooms: ['shared/units.ts', 'shared/assert.ts'], packages: [] },
  'simulator/ports': {
    rooms: ['shared', 'shared/command', 'simulator/hal.ts', 'simulator/electrics'],
    packages: ['node:', 'mqtt'],
  },
  simulator: {
    rooms: ['shared', 'shared/command', 'shared/files', 'simulator'],
    packages: ['node:'],
  },
  broker: { rooms: ['shared', 'shared/command'], packages: ['node:', 'aedes', 'typebox'] },
  'dashboard/server': {
    rooms: ['shared', 'shared/command'],
    packages: ['node:', 'fastify', '@fastify/', 'mqtt', 'prom-client', 'typebox', 'ws'],
  },
  'dashboard/web': {
    rooms: ['shared/protocol', 'shared/units.ts', 'shared/words'],
    packages: ['uplot', 'preact', '@preact/', 'vite'],
  },
  'dashboard/commands': {
    rooms: ['shared', 'shared/command', 'shared/files', 'simulator', 'broker', 'dashboard/server'],
    packages: ['node:'],
  },
  'stiffline.ts': {
    rooms: ['shared/command', 'simulator', 'broker', 'dashboard/server', 'dashboard/commands'],
    packages: [],
  },
};

/** Rooms of shared/ that need a host: they are named, never meant by `shared`. */
const hosted = ['shared/command', 'shared/files'];

/** Rooms that run anywhere, on a board too: no host, clock or chance but what they are given. */
const pure = [
  'shared/units.ts',
  'shared/assert.ts',
  'shared/metrology',
  'shared/recording',
  'shared/protocol',
  'shared/rules',
  'shared/words',
  'shared/watch',
  'simulator/hal.ts',
  'simulator/firmware',
  'simulator/electrics',
];
const impure = new RegExp(
  [
    String.raw`\bDate\.now\b`,
    String.raw`\bnew Date\(\)`,
    String.raw`\bMath\.random\b`,
    String.raw`\bset(Timeout|Interval|Immediate)\b`,
    String.raw`(?<![/\w])(process|performance)\.\w`,
  ].join('|'),
);

const files = list(root).filter((file) => /\.(ts|tsx)$/.test(file));
const source = files.filter((file) => !file.startsWith('tests/') && !/^vite/.test(file));
const text = new Map(files.map((file) => [file, readFileSync(join(root, file), 'utf8')]));

function list(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    if (['node_modules', 'dist', 'coverage', '.git', '.out', 'data'].includes(name)) return [];
    const path = join(folder, name);
    return statSync(path).isDirectory() ? list(path) : [relative(root, path)];
  });
}

function roomOf(file: string): string | undefined {
  return Object.keys(rooms)
    .filter((room) => file === room || file.startsWith(`${room}/`))
    .sort((a, b) => b.length - a.length)[0];
}

function importsOf(file: string): string[] {
  const code = (text.get(file) ?? '').replace(/\/\*[\s\S]*?\*\//g, '');
  const named = /^(?:import|export)\b[^;'"]*?\bfrom\s+'([^']+)'/gm;
  const loaded = /^import '([^']+)'|\bimport\(\s*'([^']+)'/gm;
  return [...code.matchAll(named), ...code.matchAll(loaded)].map((m) => m[1] ?? m[2] ?? '');
}

function allowed(file: string, name: string): boolean {
  const room = roomOf(file);
  if (!room) return false;
  const table = rooms[room]!;
  if (!name.startsWith('.')) return table.packages.some((each) => name.startsWith(each));
  const target = normalize(join(dirname(file), name));
  const to = roomOf(target) ?? target;
  if (to === room) return true;
  return table.rooms.some(
    (each) => to === each || (to.startsWith(`${each}/`) && !hosted.includes(to)),
  );
}

describe('the house', () => {
  test('every file stands in a room, and imports only what its room may', () => {
    const wrong = source.flatMap((file) =>
      importsOf(file)
        .filter((name) => !allowed(file, name))
        .map((name) => `${file} (${roomOf(file) ?? 'no room'}) may not import ${name}`),
    );
    expect(wrong).toEqual([]);
  });

  test('the import check names a planted offender', () => {
    expect(allowed('shared/metrology/meter.ts', 'node:fs')).toBe(false);
    expect(allowed('shared/metrology/meter.ts', '../rules/judge.ts')).toBe(false);
    expect(allowed('simulator/firmware/core.ts', '../ports/clock.ts')).toBe(false);
    expect(allowed('dashboard/server/app.ts', '../../broker/broker.ts')).toBe(false);
    expect(allowed('shared/watch/watch.ts', '../metrology/meter.ts')).toBe(true);
  });

  test('pure rooms ask neither clock nor chance nor host', () => {
    const wrong = source
      .filter((file) => pure.includes(roomOf(file) ?? ''))
      .filter((file) => impure.test(strip(text.get(file) ?? '')));
    expect(wrong).toEqual([]);
  });

  test('no file that nobody imports', () => {
    const entries = new Set(['stiffline.ts', 'dashboard/web/src/main.tsx']);
    const reached = new Set(
      files.flatMap((file) =>
        importsOf(file)
          .filter((name) => name.startsWith('.'))
          .map((name) => normalize(join(dirname(file), name))),
      ),
    );
    const dead = source.filter(
      (file) =>
        !reached.has(file) && !entries.has(file) && !/vite\.config|\.d\.ts$|sw\.ts$/.test(file),
    );
    expect(dead).toEqual([]);
  });

  test('lines of at most 100 columns, no leftover marks', () => {
    const wrong = files.flatMap((file) =>
      (text.get(file) ?? '').split('\n').flatMap((line, index) => {
        const marks = /\b(TODO|FIXME|XXX)\b|\bdebugger\b|\.only\(/.test(line) && file !== self;
        return line.length > 100 || marks ? [`${file}:${index + 1}`] : [];
      }),
    );
    expect(wrong).toEqual([]);
  });

  test('functions of at most 70 lines, files of at most 400', () => {
    const long = source.flatMap((file) => [
      ...longFunctions(file, text.get(file) ?? ''),
      ...longFile(file),
    ]);
    expect(long).toEqual([]);
  });

  test('the length check names a planted giant, function and method alike', () => {
    const body = '    f();\n'.repeat(70);
    expect(longFunctions('x', `export function f(): void {\n${body}}\n`)).toHaveLength(1);
    expect(longFunctions('x', `class A {\n  #push(a: number): void {\n${body}  }\n}`)).toHaveLength(
      1,
    );
    expect(longFunctions('x', 'export function f(): void {\n  f();\n}\n')).toEqual([]);
  });
});

const self = 'tests/house.test.ts';

function strip(code: string): string {
  return code.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
}

function longFile(file: string): string[] {
  const lines = (text.get(file) ?? '').split('\n').length;
  return lines > 401 ? [`${file}: ${lines} lines`] : [];
}

/** A function's head stands at some indentation, the brace that closes it at the same one. */
function longFunctions(file: string, code: string): string[] {
  const words = 'export |default |async |static |private |override |get |set ';
  const named = `(?:${words})*(?:function\\b.*|#?(?!if|for|while|switch|return|else)\\w+\\(.*)\\{$`;
  const arrow = '(?:export )?const \\w+ = (?:async )?\\(.*=> \\{$';
  const head = new RegExp(`^( *)(?:${named}|${arrow})`);
  const lines = code.split('\n');
  return lines.flatMap((line, index) => {
    const indent = head.exec(line)?.[1];
    if (indent === undefined) return [];
    const closes = `${indent}}`;
    const end = lines.findIndex((other, at) => at > index && other.startsWith(closes));
    const length = end - index + 1;
    return length > 70 ? [`${file}:${index + 1}: ${length} lines`] : [];
  });
}
