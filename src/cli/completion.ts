import { listKinds } from '../report/listJson.ts';
import { exitCode, Stop } from './exit.ts';
import { commandNames } from './help.ts';
import { nearest, optionTable } from './options.ts';
import { writeResult } from './output.ts';

const shells = ['bash', 'zsh', 'fish'] as const;

/** `culprint completion SHELL`: prints a script; it writes nothing and edits no start-up file. */
export async function completion(operands: readonly string[]): Promise<number> {
  const shell = shells.find((name) => name === operands[0]);
  if (shell === undefined) {
    const near = operands[0] === undefined ? undefined : nearest(operands[0], shells);
    throw new Stop(
      exitCode.usage,
      'completion for which shell?',
      near ? `did you mean ${near}?` : `culprint completion ${shells.join('|')}`,
    );
  }
  await writeResult(scripts[shell]());
  return exitCode.finished;
}

const optionNames = (): string[] => [
  ...Object.keys(optionTable)
    .filter((name) => name !== 'input' && name !== 'reading' && name !== 'color')
    .map((name) => `--${name}`),
  '--no-input',
  '--no-reading',
  '--no-color',
];
/** Prints every id; `show` without an operand says how to go on, on stderr, and nothing else. */
const idsCommand = 'culprint show --all';
const fileOptions = Object.entries(optionTable).flatMap(([name, option]) =>
  'value' in option && option.value === 'FILE' ? [`--${name}`] : [],
);

const scripts: Readonly<Record<(typeof shells)[number], () => string>> = {
  bash: () => `# culprint: save as culprint in ~/.local/share/bash-completion/completions
_culprint() {
  local word="\${COMP_WORDS[COMP_CWORD]}" before="\${COMP_WORDS[COMP_CWORD-1]}"
  case "$before" in
    list) COMPREPLY=($(compgen -W "${listKinds.join(' ')}" -- "$word")); return ;;
    completion) COMPREPLY=($(compgen -W "${shells.join(' ')}" -- "$word")); return ;;
    resume) COMPREPLY=($(compgen -W "$(culprint resume --json 2>/dev/null | sed -n 's/.*"id": "\\([^"]*\\)".*/\\1/p')" -- "$word")); return ;;
    show) COMPREPLY=($(compgen -W "$(${idsCommand} 2>/dev/null)" -- "$word")); return ;;
    ${fileOptions.join('|')}|check) COMPREPLY=($(compgen -f -- "$word")); return ;;
  esac
  COMPREPLY=($(compgen -W "${[...commandNames, ...optionNames()].join(' ')}" -- "$word"))
}
complete -F _culprint culprint`,
  zsh: () => `#compdef culprint
# culprint: save as _culprint in a folder on $fpath
_culprint() {
  case "$words[CURRENT-1]" in
    list) compadd ${listKinds.join(' ')} ;;
    completion) compadd ${shells.join(' ')} ;;
    resume) compadd $(culprint resume --json 2>/dev/null | sed -n 's/.*"id": "\\([^"]*\\)".*/\\1/p') ;;
    show) compadd $(${idsCommand} 2>/dev/null) ;;
    ${fileOptions.join('|')}|check) _files ;;
    *) compadd -- ${[...commandNames, ...optionNames()].join(' ')} ;;
  esac
}
_culprint "$@"`,
  fish: () =>
    [
      '# culprint: save as ~/.config/fish/completions/culprint.fish',
      'complete -c culprint -f',
      `complete -c culprint -n __fish_use_subcommand -a "${commandNames.join(' ')}"`,
      `complete -c culprint -n "__fish_seen_subcommand_from list" -a "${listKinds.join(' ')}"`,
      `complete -c culprint -n "__fish_seen_subcommand_from completion" -a "${shells.join(' ')}"`,
      `complete -c culprint -n "__fish_seen_subcommand_from resume" -a "(culprint resume --json 2>/dev/null | string match -rg '"id": "([^"]*)"')"`,
      `complete -c culprint -n "__fish_seen_subcommand_from show" -a "(${idsCommand} 2>/dev/null)"`,
      ...optionNames().map(
        (name) => `complete -c culprint -l ${name.slice(2)}${fileOptions.includes(name) ? ' -r -F' : ''}`,
      ),
    ].join('\n'),
};
