import { type Problem, problemCodes } from '../knowledge/problem.ts';
import { wrap } from './style.ts';

/** One problem: what kind, where, what was being read, the line with a mark under the place, and what would be right. */
export function showProblem(problem: Problem, width: number): string {
  const { title } = problemCodes[problem.code];
  const place = `${problem.file}:${problem.line}:${problem.column}`;
  const grade = problem.grade === 'warning' ? 'warning: ' : '';
  const head = `${grade}${title}`;
  const first = head.length + place.length + 2 <= width ? `${head}  ${place}` : `${head}\n${place}`;
  const said = wrap(`I was reading ${problem.reading}, and ${problem.message}.`, width);
  const frame = problem.lineText === '' ? [] : [frameOf(problem, width)];
  return [first, said, ...frame, wrap(problem.help, width)].join('\n\n');
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
  const clean = lineText
    .replace(/\t/g, ' ')
    .replace(/[^\x20-\x7e\u00a1-\u1fff\u3000-\ud7ff\ue000-\ufffd]/g, '?');
  let from = 0;
  let shown = clean;
  if (clean.length > room) {
    from = Math.max(0, Math.min(column - 1 - Math.floor(room / 3), clean.length - room));
    shown = clean.slice(from, from + room);
    if (from > 0) shown = cutMark + shown.slice(cutMark.length);
    if (from + room < clean.length) shown = shown.slice(0, -cutMark.length) + cutMark;
  }
  const start = Math.min(Math.max(0, column - 1 - from), room - 1);
  const carets = '^'.repeat(Math.max(1, Math.min(length, room - start)));
  return `${gutter}${shown}\n${' '.repeat(gutter.length + start)}${carets}`;
}
