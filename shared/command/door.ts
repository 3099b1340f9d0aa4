import { styleText } from 'node:util';
import { usage } from './flags.ts';
import { Exit, OperatingError, UsageError } from './outcome.ts';
import type { Programs } from './programs.ts';
import { applySettings, refuseStrangers } from './settings.ts';

/**
 * Loads the verb's program, runs it, turns errors into one line on stderr. SIGINT and SIGTERM abort
 * the signal that `main` gets; a program that has not ended ten seconds later is ended.
 */
export async function runVerb(verbs: Programs, argv: readonly string[]): Promise<number> {
  const [name = '', ...rest] = argv;
  if (['', 'help', '--help', '-h'].includes(name)) {
    const programs = await Promise.all(Object.values(verbs).map((load) => load()));
    process.stdout.write(`${programs.map((program) => usage(program.verb)).join('\n\n')}\n`);
    return name === '' ? Exit.usage : Exit.done;
  }
  const load = Object.hasOwn(verbs, name) ? verbs[name] : undefined;
  if (!load) {
    say(`"${name}" is no verb of stiffline; there are ${Object.keys(verbs).join(', ')}`);
    return Exit.usage;
  }
  const program = await load();
  if (rest.includes('--help') || rest.includes('-h')) {
    process.stdout.write(`${usage(program.verb)}\n`);
    return Exit.done;
  }
  try {
    await refuseStrangers(verbs, process.env);
    const { path, words } = takeConfig(rest);
    if (path) await applySettings(path, name, verbs, process.env);
    return await program.main(words, stopSignal());
  } catch (error) {
    return report(error);
  }
}

/** `--config FILE` stands for every verb. */
function takeConfig(argv: readonly string[]): { path: string | undefined; words: string[] } {
  const at = argv.indexOf('--config');
  if (at === -1) return { path: process.env.STIFFLINE_CONFIG, words: [...argv] };
  const path = argv[at + 1];
  if (path === undefined) throw new UsageError('--config: a file is needed');
  return { path, words: argv.filter((_, index) => index !== at && index !== at + 1) };
}

function report(error: unknown): number {
  if (error instanceof UsageError) {
    say(`${error.message} (see --help)`);
    return Exit.usage;
  }
  if (error instanceof OperatingError) {
    say(error.message);
    return Exit.failed;
  }
  // A defect of ours: the user still gets one line; STIFFLINE_DEBUG=1 shows a developer the rest.
  const says = error instanceof Error ? error.message : String(error);
  say(`internal error: ${says.split('\n')[0]}`);
  if (process.env.STIFFLINE_DEBUG && error instanceof Error) say(error.stack ?? '');
  return Exit.failed;
}

function say(line: string): void {
  const name = process.stderr.isTTY ? styleText('bold', 'stiffline:') : 'stiffline:';
  process.stderr.write(`${name} ${line}\n`);
}

function stopSignal(): AbortSignal {
  const stop = new AbortController();
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.on(signal, () => {
      if (stop.signal.aborted) process.exit(Exit.failed);
      stop.abort();
      // The promise is a clean end within ten seconds; what hangs longer is cut.
      setTimeout(() => process.exit(Exit.failed), 9_500).unref();
    });
  return stop.signal;
}
