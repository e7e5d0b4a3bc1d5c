import { parseArgs } from 'node:util';
import { exitCode, Stop } from './exit.ts';

/** Every option, with its help line; most hold for all commands. */
export const optionTable = {
  case: { type: 'string', value: 'FILE', help: 'read the case from a file (- for standard input)' },
  json: { type: 'boolean', help: 'print one JSON document' },
  input: { type: 'boolean', default: true, help: 'never ask anything' },
  reading: { type: 'boolean', default: true, help: 'take no facts from the words of a case' },
  local: {
    type: 'string',
    multiple: true,
    value: 'DIR',
    help: 'lay this folder of local findings over it all',
  },
  data: { type: 'string', value: 'DIR', help: 'keep own data here instead of in the user folder' },
  cache: { type: 'string', value: 'DIR', help: 'keep the knowledge snapshot here' },
  plain: { type: 'boolean', help: 'sentences instead of drawings, one typed line an answer' },
  color: { type: 'boolean', help: 'no colour; --color: colour in pipes too' },
  all: { type: 'boolean', help: 'with diagnose: every cause and the whole plan' },
  report: { type: 'string', value: 'FILE', help: 'write a report, Markdown (diagnose: - for stdout)' },
  force: { type: 'boolean', short: 'f', help: 'overwrite the report' },
  debug: { type: 'boolean', help: 'on a bug, print where it happened' },
  'write-schemas': { type: 'boolean', help: 'with check: write the JSON Schemas for editors' },
  help: { type: 'boolean', short: 'h', help: 'this page' },
  version: { type: 'boolean', help: 'name and version' },
} as const;

export interface Options {
  readonly case?: string;
  readonly json: boolean;
  readonly input: boolean;
  readonly reading: boolean;
  readonly local: readonly string[];
  readonly data?: string;
  readonly cache?: string;
  readonly plain: boolean;
  readonly color?: boolean;
  readonly all: boolean;
  readonly report?: string;
  readonly force: boolean;
  readonly debug: boolean;
  readonly writeSchemas: boolean;
  readonly help: boolean;
  readonly version: boolean;
}

export interface CommandLine {
  readonly command: string | undefined;
  readonly operands: readonly string[];
  readonly options: Options;
}

/** Edits between two short words, for "did you mean"; the knowledge layer's finder would be too dear to load here. */
function isNear(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 2) return false;
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = a[i - 1] === b[j - 1] ? 0 : 1;
      next[j] = Math.min((row[j] as number) + 1, (next[j - 1] as number) + 1, (row[j - 1] as number) + swap);
    }
    row = next;
  }
  return (row[b.length] as number) <= 2;
}

export function nearest(word: string, known: readonly string[]): string | undefined {
  return (
    known.find((name) => name.startsWith(word) && word.length > 2) ?? known.find((name) => isNear(word, name))
  );
}

export function readCommandLine(args: readonly string[]): CommandLine {
  const options = Object.fromEntries(
    Object.entries(optionTable).map(([name, { help: _, ...rest }]) => {
      const { value: __, ...option } = rest as { value?: string; type: 'string' | 'boolean' };
      return [name, option];
    }),
  );
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      options,
      allowPositionals: true,
      allowNegative: true,
      strict: true,
    });
    const flag = (name: string) => values[name] === true;
    const text = (name: string) => (typeof values[name] === 'string' ? { [name]: values[name] } : {});
    const [command, ...operands] = positionals;
    return {
      command,
      operands,
      options: {
        ...text('case'),
        ...text('data'),
        ...text('cache'),
        ...text('report'),
        json: flag('json'),
        input: values['input'] !== false,
        reading: values['reading'] !== false,
        local: (values['local'] as string[] | undefined) ?? [],
        plain: flag('plain') || (process.env['CULPRINT_PLAIN'] ?? '') !== '',
        ...(typeof values['color'] === 'boolean' ? { color: values['color'] } : {}),
        all: flag('all'),
        force: flag('force'),
        debug: flag('debug'),
        writeSchemas: flag('write-schemas'),
        help: flag('help'),
        version: flag('version'),
      },
    };
  } catch (error) {
    throw asStop(error, args);
  }
}

function asStop(error: unknown, args: readonly string[]): Stop {
  const names = Object.keys(optionTable).flatMap((name) => [`--${name}`, `--no-${name}`]);
  const known = new Set([...names, '-h', '-f', '-hf', '-fh']);
  const wrong = args.find(
    (arg) => arg.startsWith('-') && arg !== '-' && arg !== '--' && !known.has(arg.split('=')[0]!),
  );
  if (wrong !== undefined) {
    const near = nearest(wrong.split('=')[0]!, names);
    return new Stop(
      exitCode.usage,
      `there is no option ${wrong}`,
      near ? `did you mean ${near}?` : 'culprint --help lists them',
    );
  }
  const message =
    error instanceof Error ? (error.message.split('\n')[0] ?? '').replace(/\.$/, '') : String(error);
  return new Stop(
    exitCode.usage,
    message.charAt(0).toLowerCase() + message.slice(1),
    'culprint --help shows the options',
  );
}
