import { optionTable } from './options.ts';

const commands: readonly (readonly [string, string])[] = [
  ['culprint', 'find the culprit of a bad print'],
  ['culprint diagnose --case FILE', 'the same from a case file, without asking'],
  ['culprint resume [ID]', 'go on with a case that was left'],
  ['culprint list KIND', 'names: symptoms, signs, facts, causes, fixes'],
  ['culprint search WORDS...', 'find entries by everyday words'],
  ['culprint show ID', 'read one entry in full'],
  ['culprint check [FILES]', 'check the knowledge and local findings'],
  ['culprint completion SHELL', 'print a completion script: bash, zsh or fish'],
];

const codes: readonly (readonly [string, string])[] = [
  ['0', 'finished, also when no cause stands out'],
  ['64', 'wrong usage, or no terminal and not enough given'],
  ['65', 'bad data: the problems are listed'],
  ['66', 'a file is missing'],
  ['70', 'a bug of ours'],
  ['73', 'a file cannot be written'],
  ['74', 'reading or writing failed'],
  ['128+n', 'ended by signal n (130: Ctrl-C)'],
];

/** The help page; at most 79 columns. */
export function helpText(): string {
  const rows = (pairs: readonly (readonly [string, string])[], width: number) =>
    pairs.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`);
  const options = Object.entries(optionTable).map(([name, option]) => {
    const short = 'short' in option ? `, -${option.short}` : '';
    const value = 'value' in option ? ` ${option.value}` : '';
    return [
      name === 'input' || name === 'reading' || name === 'color'
        ? `--no-${name}`
        : `--${name}${value}${short}`,
      option.help,
    ] as const;
  });
  return [
    'Finds why a filament print failed, and what to change first.',
    '',
    'Examples',
    '  culprint',
    '  culprint diagnose --case bad-print.yaml --json',
    '',
    'Commands',
    ...rows(commands, 30),
    '',
    'Options',
    ...rows(options, 18),
    '',
    'Colour: --color, --no-color, then FORCE_COLOR, NO_COLOR, then the terminal.',
    'Also CULPRINT_LOCAL, CULPRINT_DATA, CULPRINT_CACHE, and CULPRINT_PLAIN=1.',
    '',
    'Exit codes',
    ...rows(codes, 6),
  ].join('\n');
}

export const commandNames = [
  'diagnose',
  'resume',
  'list',
  'search',
  'show',
  'check',
  'completion',
  'help',
  'version',
] as const;
