import { createInterface, type Interface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';
import type { Question } from '../dialogue/question.ts';
import { readQuantity } from '../knowledge/readQuantity.ts';
import { type Asker, type Choice, InputEnded, type ListChoice, type ListEntry } from './asker.ts';
import { type Look, wrap } from './style.ts';
import { showQuantity, writeUnit } from '../dialogue/quantity.ts';

/** Words and letters that mean the same on every question. */
const commands: Readonly<Record<string, Exclude<Choice['kind'], 'answer'>>> = {
  '0': 'unknown',
  '?': 'unknown',
  b: 'back',
  back: 'back',
  w: 'why',
  why: 'why',
  l: 'look',
  look: 'look',
  r: 'ranking',
  ranking: 'ranking',
  q: 'stop',
  quit: 'stop',
};

/**
 * Asks by numbered lists and one typed line an answer: no cursor movement, nothing drawn twice. For screen readers, dumb
 * terminals and answers from a pipe.
 */
export class LineAsker implements Asker {
  private readonly lines: Interface;
  private readonly waiting: ((line: string) => void)[] = [];
  private readonly ready: string[] = [];
  private ended: InputEnded | undefined;
  private onEnd: (() => void) | undefined;

  constructor(
    input: Readable,
    private readonly output: Writable,
    private readonly look: Look,
  ) {
    // No terminal: readline must neither echo nor move the cursor.
    this.lines = createInterface({ input, terminal: false });
    this.lines.on('line', (line) => {
      const next = this.waiting.shift();
      if (next) next(line);
      else this.ready.push(line);
    });
    this.lines.on('close', () => this.end('end'));
  }

  private end(reason: 'end' | 'interrupt'): void {
    this.ended ??= new InputEnded(reason);
    this.onEnd?.();
  }

  interrupt(): void {
    this.end('interrupt');
  }

  say(text: string): void {
    this.output.write(`${text}\n`);
  }

  close(): void {
    this.lines.close();
  }

  private read(): Promise<string> {
    const line = this.ready.shift();
    if (line !== undefined) return Promise.resolve(line);
    return new Promise((resolve, reject) => {
      this.onEnd = () => reject(this.ended);
      if (this.ended) reject(this.ended);
      else this.waiting.push(resolve);
    });
  }

  async ask(question: Question, before: string | number | 'unknown' | undefined): Promise<Choice> {
    this.say(`\n${wrap(question.text, this.look.width)}`);
    question.answers.forEach((answer, index) => {
      this.say(wrap(answer.text, this.look.width, '     ', `  ${index + 1}  `));
    });
    if (question.unit !== undefined) this.say(`  ${rangeText(question)}`);
    this.say(`  ${isNoughtAnAnswer(question) ? '?' : '0'}  do not know`);
    if (before !== undefined) this.say(`  (you said: ${answerText(question, before)})`);
    this.say(wrap('Number, or: b back, w why, l how to look, r ranking, q stop', this.look.width));
    for (;;) {
      const typed = (await this.read()).trim();
      const command = commands[typed.toLowerCase()];
      if (command !== undefined && !(typed === '0' && isNoughtAnAnswer(question))) return { kind: command };
      const answer = readAnswer(question, typed);
      if (typeof answer !== 'object') return { kind: 'answer', value: answer };
      this.say(wrap(answer.complaint, this.look.width));
    }
  }

  async pick(title: string, entries: readonly ListEntry[], words: boolean): Promise<ListChoice> {
    this.say(`\n${wrap(title, this.look.width)}`);
    entries.forEach((entry, index) => {
      const hint = entry.hint ? ` (${entry.hint})` : '';
      this.say(wrap(entry.text + hint, this.look.width, '     ', `  ${index + 1}  `));
      if (entry.drawing && !this.look.plain) this.say(indented(entry.drawing));
    });
    this.say(wrap(`Number${words ? ', or your own words' : ''}; b back, q stop`, this.look.width));
    for (;;) {
      const typed = (await this.read()).trim();
      if (typed === 'b' || typed === 'back') return { kind: 'back' };
      if (typed === 'q' || typed === 'quit') return { kind: 'stop' };
      const entry = /^\d+$/.test(typed) ? entries[Number(typed) - 1] : undefined;
      if (entry) return { kind: 'pick', id: entry.id };
      if (words && /\p{L}{2}/u.test(typed)) return { kind: 'words', text: typed };
      this.say(`Type a number from 1 to ${entries.length}${words ? ', or what you see in your own words' : ''}.`);
    }
  }
}

/** Where a number is asked that may be nought (no brim, no fan), 0 is that number and ? means "do not know". */
function isNoughtAnAnswer({ unit, range }: Question): boolean {
  return unit !== undefined && range !== undefined && range[0] <= 0 && range[1] >= 0;
}

function indented(drawing: string): string {
  return drawing
    .trimEnd()
    .split('\n')
    .map((line) => `       ${line}`)
    .join('\n');
}

function rangeText({ unit, range }: Question): string {
  const [low, high] = range ?? [0, 0];
  return `a number in ${writeUnit(unit) || 'plain figures'}, from ${low} to ${high}`;
}

export function answerText(question: Question, value: string | number | 'unknown'): string {
  if (value === 'unknown') return 'do not know';
  if (typeof value === 'number') return showQuantity(value, question.unit);
  return question.answers.find((answer) => answer.id === value)?.text ?? value;
}

/** The answer that was typed, or what to say about it. */
export function readAnswer(question: Question, typed: string): string | number | { complaint: string } {
  if (question.unit === undefined) {
    const index = /^\d+$/.test(typed) ? Number(typed) : Number.NaN;
    const answer = question.answers[index - 1] ?? question.answers.find((a) => sameWords(a.text, typed) || a.id === typed);
    if (answer) return answer.id;
    return { complaint: `Type a number from 1 to ${question.answers.length}, or 0 if you do not know.` };
  }
  const read = readQuantity(typed, question.unit);
  const [low, high] = question.range ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  if (!read.ok) return { complaint: `"${typed}": ${read.message}. Type ${rangeText(question)}, or ? if you do not know.` };
  if (read.value < low || read.value > high) {
    const near = nearRange(read.value, low, high);
    const hint = near === undefined ? '' : ` Did you mean ${near}?`;
    return { complaint: `${typed} is outside ${low} to ${high} ${writeUnit(question.unit)}.${hint}` };
  }
  return read.value;
}

/** A slip by a factor of ten is the usual one: 2100 for 210. */
function nearRange(value: number, low: number, high: number): number | undefined {
  return [value / 10, value * 10].find((other) => other >= low && other <= high);
}

function sameWords(a: string, b: string): boolean {
  return a.toLowerCase() === b.toLowerCase();
}
