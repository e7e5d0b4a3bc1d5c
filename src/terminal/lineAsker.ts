import { createInterface, type Interface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';
import type { Question } from '../dialogue/question.ts';
import type { Marks, Sheet } from '../dialogue/sheet.ts';
import {
  type Asker,
  type Choice,
  type ConfirmChoice,
  InputEnded,
  type ListChoice,
  type ListEntry,
  type LiveSearch,
  type PanelName,
  type Panels,
  type SheetChoice,
} from './asker.ts';
import { answerText, isNoughtAnAnswer, rangeText, readAnswer } from './readAnswer.ts';
import { readMarks } from './readMarks.ts';
import { forLook, type Look, wrap } from './style.ts';

/** Words and letters that mean the same on every question. */
const commands: Readonly<Record<string, Exclude<Choice['kind'], 'answer'>>> = {
  '0': 'unknown',
  '?': 'unknown',
  b: 'back',
  back: 'back',
  q: 'stop',
  quit: 'stop',
};
const panelWords: Readonly<Record<string, PanelName>> = {
  w: 'why',
  why: 'why',
  l: 'look',
  look: 'look',
  r: 'ranking',
  ranking: 'ranking',
};

const lookHelp =
  'Numbers of what is there; with - before it what is surely not, as 1 4 -2; - alone: none of the others; empty: did not look. b back, l 3 how to look at 3, w 3 why, r ranking, q stop';
const recallHelp =
  'Numbers with spaces between them, or an empty line for none. b back, w 3 why 3, r ranking, q stop';

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
    this.output.write(`${forLook(text, this.look)}\n`);
  }

  /** Each answer already stands where it was typed. */
  note(): void {}

  async fill(sheet: Sheet, before: Marks, panelsOf: (item: Question) => Panels): Promise<SheetChoice> {
    const { items, kind } = sheet;
    const { width } = this.look;
    this.say(`\n${wrap(sheet.title, width)}`);
    items.forEach((item, index) => {
      const mark = before[item.id];
      const said = mark === undefined ? '' : ` (you said: ${mark})`;
      this.say(wrap((kind === 'look' ? item.short : item.text) + said, width, '     ', `  ${index + 1}  `));
    });
    this.say(wrap(kind === 'look' ? lookHelp : recallHelp, width));
    for (;;) {
      const typed = (await this.read()).trim();
      const called = /^(\w+)(?:\s+(\d+))?$/.exec(typed.toLowerCase());
      const panel = called?.[1] === undefined ? undefined : panelWords[called[1]];
      const about = items[Number(called?.[2] ?? 1) - 1];
      if (panel && about) {
        this.say(panelsOf(about)[panel]());
        continue;
      }
      const command = commands[typed.toLowerCase()];
      if (command === 'back' || command === 'stop') return { kind: command };
      const marks = command === 'unknown' ? {} : readMarks(sheet, typed);
      if (marks) return { kind: 'marks', marks };
      this.say(wrap(`Type numbers from 1 to ${items.length}, or nothing.`, width));
    }
  }

  async confirm(title: string, lines: readonly ListEntry[]): Promise<ConfirmChoice> {
    const { width } = this.look;
    this.say(`\n${wrap(title, width)}`);
    lines.forEach(({ text, hint }, index) => {
      this.say(wrap(`${text}${hint === undefined ? '' : ` (${hint})`}`, width, '     ', `  ${index + 1}  `));
    });
    this.say(
      wrap(
        'Numbers to strike out, with spaces between them; an empty line: all is right. b back, q stop',
        width,
      ),
    );
    for (;;) {
      const typed = (await this.read()).trim();
      const command = typed === '0' ? undefined : commands[typed.toLowerCase()];
      if (command === 'back' || command === 'stop') return { kind: command };
      const struck = typed.split(/[\s,]+/).filter(Boolean);
      if (struck.every((part) => /^\d+$/.test(part) && lines[Number(part) - 1] !== undefined)) {
        const out = new Set(struck.map((part) => Number(part) - 1));
        return { kind: 'kept', ids: lines.filter((_, index) => !out.has(index)).map(({ id }) => id) };
      }
      this.say(wrap(`Type numbers from 1 to ${lines.length}, or nothing.`, width));
    }
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

  async ask(
    question: Question,
    before: string | number | 'unknown' | undefined,
    panels: Panels,
  ): Promise<Choice> {
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
      const panel = panelWords[typed.toLowerCase()];
      if (panel) {
        this.say(panels[panel]());
        continue;
      }
      const command = commands[typed.toLowerCase()];
      if (command !== undefined && !(typed === '0' && isNoughtAnAnswer(question))) return { kind: command };
      const answer = readAnswer(question, typed);
      if (typeof answer !== 'object') return { kind: 'answer', value: answer };
      this.say(wrap(answer.complaint, this.look.width));
    }
  }

  async pick(title: string, entries: readonly ListEntry[], search?: LiveSearch): Promise<ListChoice> {
    const words = search !== undefined;
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
      this.say(
        `Type a number from 1 to ${entries.length}${words ? ', or what you see in your own words' : ''}.`,
      );
    }
  }
}

function indented(drawing: string): string {
  return drawing
    .trimEnd()
    .split('\n')
    .map((line) => `       ${line}`)
    .join('\n');
}
