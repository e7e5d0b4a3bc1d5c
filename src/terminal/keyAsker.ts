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
  type OnRedraw,
  type Panels,
  type SheetChoice,
} from './asker.ts';
import { choicePrompt } from './choicePrompt.ts';
import { GapWatch } from './gapWatch.ts';
import { HeldKey } from './heldKey.ts';
import type { MarkConfig } from './markPrompt.ts';
import { answerText } from './readAnswer.ts';
import { clip, forLook, type Look, padTo, wrap } from './style.ts';

type Terminal = { readonly input: NodeJS.ReadStream; readonly output: NodeJS.WriteStream };

/** Asks by single keys in a terminal; every finished question shrinks to one line. */
export class KeyAsker implements Asker {
  private readonly held = new HeldKey();
  private readonly redraws = new Set<() => void>();
  private readonly gap: GapWatch;

  constructor(
    private readonly terminal: Terminal,
    private readonly look: () => Look,
    onInterrupt: () => void,
  ) {
    this.gap = new GapWatch(terminal.input, onInterrupt);
  }

  private get context() {
    return { ...this.terminal, clearPromptOnDone: true };
  }

  private readonly rows = (): number => this.terminal.output.rows ?? 24;

  say(text: string): void {
    this.terminal.output.write(`${forLook(text, this.look())}\n`);
  }

  note(label: string, answer: string): void {
    const { width } = this.look();
    const room = Math.min(30, Math.floor(width / 2));
    this.say(wrap(answer, width, ' '.repeat(room + 4), `  ${padTo(clip(label, room), room)}  `));
  }

  close(): void {
    this.gap.release();
  }

  /** The window changed, or the program came back to the foreground. */
  redraw(): void {
    for (const redraw of this.redraws) redraw();
  }

  private readonly onRedraw: OnRedraw = (redraw) => {
    this.redraws.add(redraw);
    return () => {
      this.redraws.delete(redraw);
    };
  };

  async ask(
    question: Question,
    before: string | number | 'unknown' | undefined,
    panels: Panels,
  ): Promise<Choice> {
    this.held.newQuestion();
    const shared = { look: this.look, rows: this.rows, held: this.held, onRedraw: this.onRedraw, panels };
    if (question.unit !== undefined) {
      const { numberPrompt } = await import('./numberPrompt.ts');
      const typed =
        before === undefined || before === 'unknown' ? {} : { before: answerText(question, before) };
      return this.guard(() => numberPrompt({ question, ...shared, ...typed }, this.context));
    }
    const result = await this.guard(() =>
      choicePrompt(
        {
          title: question.text,
          items: question.answers,
          unknown: true,
          words: false,
          ...shared,
          ...(before === undefined ? {} : { before: String(before) }),
        },
        this.context,
      ),
    );
    if (result.kind === 'item') return { kind: 'answer', value: result.id };
    return result.kind === 'words' ? { kind: 'back' } : result;
  }

  async pick(title: string, entries: readonly ListEntry[], search?: LiveSearch): Promise<ListChoice> {
    for (;;) {
      this.held.newQuestion();
      const config = {
        title,
        items: entries,
        unknown: false,
        words: search !== undefined,
        look: this.look,
        rows: this.rows,
        held: this.held,
        onRedraw: this.onRedraw,
      };
      const result = await this.guard(() => choicePrompt(config, this.context));
      if (result.kind === 'item') return { kind: 'pick', id: result.id };
      if (result.kind === 'back' || result.kind === 'stop') return result;
      const found = search && (await this.searchFor(search));
      if (found) return found;
    }
  }

  /** The library's own search: it filters while one types. Esc is not its key, so an entry leads back. */
  private async searchFor(search: LiveSearch): Promise<ListChoice | undefined> {
    const { search: searchPrompt } = await import('@inquirer/prompts');
    const none = 'none of these';
    let typed = '';
    const picked = await this.guard(() =>
      searchPrompt<string>(
        {
          message: 'What do you see?',
          source: async (term) => {
            typed = term?.trim() ?? '';
            const hits = term === undefined || term.trim() === '' ? [] : await search(term);
            return [
              ...hits.map((hit) => ({
                value: hit.id,
                name: hit.text,
                ...(hit.hint === undefined ? {} : { description: hit.hint }),
              })),
              { value: none, name: hits.length === 0 ? 'back to the list' : none },
            ];
          },
          pageSize: Math.max(3, Math.min(7, this.rows() - 6)),
        },
        this.context,
      ),
    );
    return picked === none ? undefined : { kind: 'pick', id: picked, words: typed };
  }

  async fill(sheet: Sheet, before: Marks, panelsOf: (item: Question) => Panels): Promise<SheetChoice> {
    const isLook = sheet.kind === 'look';
    return this.mark({
      title: sheet.title,
      lines: sheet.items.map((item) => ({
        id: item.id,
        text: item.short,
        full: item.text,
        panels: panelsOf(item),
      })),
      before,
      turns: isLook ? [undefined, 'yes', 'no'] : [undefined, 'yes'],
      mayLeaveRest: true,
      footer: [
        ...(isLook ? ['1-9 yes, no, not looked', 'n none of the others'] : ['1-9 mark']),
        'Enter go on',
        'l how to look',
        'w why this',
        'r ranking',
        'b back',
        'q save and stop',
      ],
    });
  }

  /** Every line stands as right; its digit strikes it out and brings it back. */
  async confirm(title: string, lines: readonly ListEntry[]): Promise<ConfirmChoice> {
    const choice = await this.mark({
      title,
      lines: lines.map(({ id, text, hint }) => ({
        id,
        text: hint === undefined ? text : `${text} (${hint})`,
      })),
      before: Object.fromEntries(lines.map(({ id }) => [id, 'yes'])),
      turns: ['yes', 'no'],
      mayLeaveRest: false,
      footer: ['1-9 strike out, bring back', 'Enter go on', 'b back', 'q stop'],
    });
    if (choice.kind !== 'marks') return choice;
    return { kind: 'kept', ids: lines.map(({ id }) => id).filter((id) => choice.marks[id] === 'yes') };
  }

  private async mark(config: Omit<MarkConfig, 'look' | 'rows' | 'held' | 'onRedraw'>): Promise<SheetChoice> {
    this.held.newQuestion();
    const { markPrompt } = await import('./markPrompt.ts');
    const { look, rows, held, onRedraw } = this;
    return this.guard(() => markPrompt({ ...config, look, rows, held, onRedraw }, this.context));
  }

  /** Ctrl-C and the end of the input reach us as errors of the library. */
  private async guard<T>(ask: () => Promise<T>): Promise<T> {
    if (this.gap.stop() === 'end') throw new InputEnded('end');
    try {
      return await ask();
    } catch (error) {
      if (error instanceof Error && error.name === 'ExitPromptError') {
        throw new InputEnded(error.message.includes('SIGINT') ? 'interrupt' : 'end');
      }
      throw error;
    } finally {
      this.gap.start();
    }
  }
}
