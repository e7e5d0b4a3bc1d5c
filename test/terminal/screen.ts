import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type IPty, spawn } from '@lydell/node-pty';
import xterm from '@xterm/headless';

const { Terminal } = xterm;

export interface ScreenOptions {
  readonly cols?: number;
  readonly rows?: number;
  readonly args?: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
  readonly data?: string;
  /** Run this through a shell instead of the program itself. */
  readonly shell?: string;
}

const cache = mkdtempSync(join(tmpdir(), 'culprint-pty-'));

/** The real program in a real pseudo-terminal, with the picture a person would see. */
export class Screen {
  private readonly terminal: InstanceType<typeof Terminal>;
  readonly pty: IPty;
  readonly data: string;
  private exit: { exitCode: number; signal?: number } | undefined;
  private raw = '';

  constructor(options: ScreenOptions = {}) {
    const { cols = 80, rows = 40, args = [], env = {}, shell } = options;
    this.data = options.data ?? mkdtempSync(join(tmpdir(), 'culprint-data-'));
    this.terminal = new Terminal({ cols, rows, scrollback: 2000, allowProposedApi: true });
    const command =
      shell === undefined ? [process.execPath, ['dist/cli/main.js', ...args]] : ['/bin/sh', ['-c', shell]];
    this.pty = spawn(command[0] as string, command[1] as string[], {
      name: env['TERM'] ?? 'xterm-256color',
      cols,
      rows,
      env: {
        PATH: process.env['PATH'] ?? '',
        HOME: cache,
        LANG: 'C.UTF-8',
        CULPRINT_DATA: this.data,
        CULPRINT_CACHE: cache,
        ...env,
      },
    });
    this.pty.onData((data) => {
      this.raw += data;
      this.terminal.write(data);
    });
    this.pty.onExit((exit) => {
      this.exit = exit;
    });
  }

  /** Everything on the screen and above it, one line a row. */
  text(): string {
    const buffer = this.terminal.buffer.active;
    const lines: string[] = [];
    for (let row = 0; row < buffer.length; row++)
      lines.push(buffer.getLine(row)?.translateToString(true) ?? '');
    return lines.join('\n').trimEnd();
  }

  /** Whether the last thing said about the cursor was to show it. */
  cursorShown(): boolean {
    return this.raw.lastIndexOf('\u001b[?25l') <= this.raw.lastIndexOf('\u001b[?25h');
  }

  async until(what: string | RegExp | (() => boolean), milliseconds = 15_000): Promise<void> {
    const there = () => {
      if (typeof what === 'function') return what();
      const text = this.text();
      return typeof what === 'string' ? text.includes(what) : what.test(text);
    };
    const end = Date.now() + milliseconds;
    while (!there()) {
      if (Date.now() > end) throw new Error(`not seen: ${String(what)}\n${this.text()}`);
      await pause(15);
    }
  }

  /** Waits until nothing has been drawn for a while. */
  async settled(quiet = 120): Promise<void> {
    for (let before = -1; before !== this.raw.length; ) {
      before = this.raw.length;
      await pause(quiet);
    }
  }

  /** Types keys one by one, as a person would: each only when the screen has come to rest and the held-key guard is over. */
  async keys(...keys: string[]): Promise<void> {
    for (const key of keys) {
      await this.settled();
      await pause(750);
      this.pty.write(key);
    }
    await this.settled();
  }

  async ended(milliseconds = 15_000): Promise<{ exitCode: number; signal?: number }> {
    const end = Date.now() + milliseconds;
    while (this.exit === undefined) {
      if (Date.now() > end) throw new Error(`still running\n${this.text()}`);
      await pause(15);
    }
    await pause(30);
    return this.exit;
  }
}

export function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, milliseconds);
  });
}
