import stringWidth from 'fast-string-width';
import { type Problem, problemCodes } from '../knowledge/problem.ts';
import { wrap } from './style.ts';

// Names of files and what authors write go into the sentences; nothing in them may move the cursor or turn the text around.
const unsafe = /[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}]/gu;

function clean(text: string): string {
  return text.replace(/\t/g, ' ').replace(unsafe, (letter) => '?'.repeat(letter.length));
}

/** One problem: what kind, where, what was being read, the line with a mark under the place, and what would be right. */
export function showProblem(problem: Problem, width: number): string {
  const { title } = problemCodes[problem.code];
  const place = `${clean(problem.file)}:${problem.line}:${problem.column}`;
  const grade = problem.grade === 'warning' ? 'warning: ' : '';
  const head = `${grade}${title}`;
  const first = head.length + place.length + 2 <= width ? `${head}  ${place}` : `${head}\n${place}`;
  const frame = problem.lineText.trim() === '' ? [] : [frameOf(problem, width)];
  const said = `I was reading ${problem.reading}, and ${problem.message}${frame.length > 0 ? ':' : '.'}`;
  const help = problem.help.split('\n').map((line) => wrap(clean(line), width));
  return [first, wrap(clean(said), width), ...frame, help.join('\n')].join('\n\n');
}

export function showProblems(problems: readonly Problem[], width: number): string {
  const errors = problems.filter((problem) => problem.grade === 'error').length;
  const count = `${errors} ${errors === 1 ? 'problem' : 'problems'}, ${problems.length - errors} warnings`;
  const rule = '-'.repeat(Math.min(width, 40));
  return [...problems.map((problem) => showProblem(problem, width)), count].join(`\n\n${rule}\n\n`);
}

const cutMark = '...';

/** The line, cut to the width around the place, with carets under it. Nothing in it can move the cursor. */
function frameOf({ line, column, length, lineText }: Problem, width: number): string {
  const gutter = `${line} | `;
  const room = Math.max(12, width - gutter.length);
  const whole = clean(lineText).trimEnd();
  let from = 0;
  let shown = whole;
  if (stringWidth(whole) > room) {
    from = Math.max(0, Math.min(column - 1 - Math.floor(room / 3), whole.length - room));
    shown = cutTo(whole.slice(from), room);
    if (from + shown.length < whole.length) shown = cutTo(shown, room - cutMark.length) + cutMark;
    if (from > 0) shown = cutMark + shown.slice(cutMark.length);
  }
  const start = Math.min(Math.max(0, column - 1 - from), shown.length);
  const before = stringWidth(shown.slice(0, start));
  const marked = stringWidth(shown.slice(start, start + length));
  const carets = '^'.repeat(Math.max(1, Math.min(marked, room - before)));
  return `${gutter}${shown}\n${' '.repeat(gutter.length + before)}${carets}`;
}

/** As much of the text as fits; wide characters take two columns. */
function cutTo(text: string, columns: number): string {
  let fitting = text.slice(0, columns);
  while (stringWidth(fitting) > columns) fitting = fitting.slice(0, -1);
  return fitting;
}
