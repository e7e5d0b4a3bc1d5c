import {
  type Document,
  isAlias,
  isCollection,
  isMap,
  isScalar,
  LineCounter,
  type Node,
  type Pair,
  parseDocument,
  type Scalar,
  type YAMLMap,
} from 'yaml';
import { gradeOf, type Problem } from './problem.ts';

export type Path = readonly (string | number)[];

/** Where something stands: line and column from 1, length in UTF-16 units and never past the end of the line. */
export interface Place {
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

/** A YAML file: its plain value, and where each key and value of it stands. */
export interface Parsed {
  /** The file's name in problems. */
  readonly file: string;
  /** Undefined where there are problems. Mappings are plain objects that hold own keys only. */
  readonly value: unknown;
  readonly problems: readonly Problem[];
  has(path: Path): boolean;
  /** The key or value at a path; where it is missing, the first key of the deepest mapping on the way that is there. */
  place(path: Path, which?: 'key' | 'value'): Place;
  /** A part of the text at a path, by its first letter and the one after its last; the whole value where the two cannot be matched. */
  placeWithin(path: Path, start: number, end: number): Place;
  lineText(line: number): string;
}

const deepest = 20;
const mostNodes = 20_000;
const mostProblems = 50;
// Control characters, direction overrides and line separators: what could rewrite a terminal's screen or deceive the eye.
const forbidden =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff]|\r(?!\n)|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

export interface Slot {
  readonly line: number;
  readonly column: number;
  readonly length: number;
  readonly lineText: string;
}

/** Reads one YAML 1.2 file. Nothing is thrown, however broken the text. */
export function parseYaml(text: string, file: string): Parsed {
  const clean = text.startsWith('\ufeff') ? text.slice(1) : text;
  return new ParsedFile(clean, file);
}

/**
 * The parser calls itself for every level, and near the end of the stack the machine can fail beyond catching. So depth
 * is bounded before it is asked: brackets from above (those in texts count too), list and key marks within one line.
 */
function tooDeepAt(text: string): number | undefined {
  let open = 0;
  let marks = 0;
  for (let i = 0; i < text.length; i++) {
    const letter = text.charCodeAt(i);
    if (letter === 0x5b || letter === 0x7b) open += 1;
    else if ((letter === 0x5d || letter === 0x7d) && open > 0) open -= 1;
    if (letter === 0x0a) marks = 0;
    else if (letter === 0x2d || letter === 0x3f || letter === 0x3a) {
      // Only a mark with a space behind it makes a level; a rule of dashes makes none.
      marks = text[i + 1] === ' ' || text[i + 1] === '\t' ? marks + 1 : 0;
    } else if (letter !== 0x20 && letter !== 0x09) marks = 0;
    if (open > 600 || marks > 60) return i;
  }
  return undefined;
}

class ParsedFile implements Parsed {
  readonly problems: Problem[] = [];
  readonly value: unknown;
  private readonly text: string;
  readonly file: string;
  private readonly lines = new LineCounter();
  private contents: Node | null = null;
  private nodes = 0;

  constructor(text: string, file: string) {
    this.text = text;
    this.file = file;
    // The parser tells the counter where lines begin, but may never be asked.
    for (let at = 0; at !== 0 || this.lines.lineStarts.length === 0; at = text.indexOf('\n', at) + 1)
      this.lines.addNewLine(at);
    this.value = this.read();
  }

  private read(): unknown {
    for (const match of this.text.matchAll(forbidden)) {
      const code = match[0].codePointAt(0) ?? 0;
      this.add('bad-text', this.slot(match.index, match.index + 1), {
        reading: 'the file',
        message: `found the control character U+${code.toString(16).toUpperCase().padStart(4, '0')}`,
        help: 'Take it out; only letters, signs, spaces and line ends may stand here.',
      });
    }
    if (this.problems.length > 0) return undefined;
    const deep = tooDeepAt(this.text);
    if (deep !== undefined) return this.tooDeep(deep);
    let document: Document.Parsed;
    try {
      document = parseDocument(this.text, {
        version: '1.2',
        schema: 'core',
        strict: true,
        stringKeys: true,
        merge: false,
        // Checked below: the parser's own check takes quadratic time.
        uniqueKeys: false,
        // Not `silent`: then a second document would be passed over without a word.
        logLevel: 'error',
        prettyErrors: false,
      });
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      return this.tooDeep(0);
    }
    const error = document.errors[0];
    if (error) {
      const [message, help] = wordYamlError(error.code, error.message);
      this.add('bad-yaml', this.slot(error.pos[0], Math.max(error.pos[1], error.pos[0] + 1)), {
        reading: 'the file',
        message,
        help: this.leavesBlock(error.pos[0]) ?? help,
      });
      return undefined;
    }
    this.contents = document.contents;
    const warning = document.warnings[0];
    if (warning) this.noAlias(warning.pos[0], warning.pos[1]);
    const value = this.plain(document.contents, 0);
    return this.problems.length > 0 ? undefined : value;
  }

  /** A drawing whose first line is indented more than the rest ends at the next line: the slip that everybody makes once. */
  private leavesBlock(at: number): string | undefined {
    const indented = (line: string) => line.length - line.trimStart().length;
    const { line: last } = this.placeAt(at, at + 1);
    const depth = indented(this.lineText(last));
    for (let line = last - 1; line > 0; line--) {
      const text = this.lineText(line);
      if (text.trim() === '' || indented(text) >= depth) continue;
      return /:\s+[|>][+-]?\s*(#.*)?$/.test(text)
        ? 'The first line of this text is indented more than the rest: write `|2` for `|`, with two spaces before every line.'
        : undefined;
    }
    return undefined;
  }

  /** A node as plain data; problems are noted on the way. */
  private plain(node: unknown, depth: number): unknown {
    if (node === null || this.problems.length >= mostProblems) return null;
    const { range, tag, anchor } = node as {
      range?: [number, number, number];
      tag?: string;
      anchor?: string;
    };
    const from = range?.[0] ?? 0;
    this.nodes += 1;
    if (this.nodes > mostNodes) {
      if (this.nodes === mostNodes + 1)
        this.add('too-big', this.slot(from, from + 1), {
          reading: 'the file',
          message: `found more than ${mostNodes} things in it`,
          help: 'An entry takes a few lines; split the file.',
        });
      return null;
    }
    if (depth > deepest) return this.tooDeep(from);
    if (isAlias(node) || anchor !== undefined || tag !== undefined)
      return this.noAlias(from, range?.[1] ?? from + 1);
    if (isScalar(node)) {
      if (typeof node.value === 'string')
        this.checkText(node as Scalar<string>, from, range?.[1] ?? from + 1);
      return typeof node.value === 'bigint' ? Number(node.value) : node.value;
    }
    if (isMap(node)) return this.plainMap(node, depth);
    if (isCollection(node)) return node.items.map((item) => this.plain(item, depth + 1));
    return null;
  }

  private plainMap(map: YAMLMap, depth: number): Record<string, unknown> {
    const result: Record<string, unknown> = {};
    for (const pair of map.items as Pair<Node, Node | null>[]) {
      const key = isScalar(pair.key) ? String(pair.key.value ?? '') : undefined;
      const from = pair.key?.range?.[0] ?? 0;
      const to = pair.key?.range?.[1] ?? from + 1;
      if (key === undefined || pair.key.anchor !== undefined) {
        this.noAlias(from, to);
      } else if (key === '__proto__' || key === '') {
        this.add('bad-id', this.slot(from, to), {
          reading: 'the keys',
          message: 'this cannot be a key',
          help: 'Keys are words in small letters.',
        });
      } else if (Object.hasOwn(result, key)) {
        this.add('duplicate-key', this.slot(from, to), {
          reading: 'the keys',
          message: `have already seen \`${key}\` in this mapping`,
          help: 'Keep one of the two.',
        });
      } else {
        this.plain(pair.key, depth + 1);
        result[key] = this.plain(pair.value, depth + 1);
      }
    }
    return result;
  }

  /** Escapes in quoted text can make characters that do not stand in the file. */
  private checkText(scalar: Scalar<string>, from: number, to: number): void {
    if (scalar.value.search(forbidden) < 0 && !scalar.value.includes('\r')) return;
    this.add('bad-text', this.slot(from, to), {
      reading: 'a text',
      message: 'an escape in it makes a control character',
      help: 'Take it out; only letters, signs, spaces and line ends may stand here.',
    });
  }

  private tooDeep(at: number): undefined {
    this.add('too-deep', this.slot(at, at + 1), {
      reading: 'the file',
      message: `it is nested more than ${deepest} deep`,
      help: 'No entry needs that; is a bracket left open?',
    });
    return undefined;
  }

  private noAlias(from: number, to: number): undefined {
    this.add('no-alias', this.slot(from, to), {
      reading: 'the file',
      message: 'found an anchor (&), an alias (*) or a tag (!)',
      help: 'Write the value out, or put the text in quotes if it begins with one of these signs.',
    });
    return undefined;
  }

  private add(
    code: Problem['code'],
    slot: Slot,
    said: { reading: string; message: string; help: string },
  ): void {
    if (this.problems.length < mostProblems)
      this.problems.push({ code, grade: gradeOf(code), file: this.file, ...slot, ...said });
  }

  private placeAt(from: number, to: number): Place {
    const { line, col } = this.lines.linePos(Math.min(from, this.text.length));
    const column = Math.max(col, 1);
    const rest = this.lineText(line).length - column + 1;
    return { line: Math.max(line, 1), column, length: Math.max(1, Math.min(to - from, rest)) };
  }

  private slot(from: number, to: number): Slot {
    const place = this.placeAt(from, to);
    return { ...place, lineText: this.lineText(place.line) };
  }

  lineText(line: number): string {
    const start = this.lines.lineStarts[line - 1];
    if (start === undefined) return '';
    const end = this.lines.lineStarts[line];
    return this.text.slice(start, end === undefined ? undefined : end - 1).replace(/\r$/, '');
  }

  private walk(path: Path): { pair?: Pair<Node, Node | null>; node: Node | null; missing: boolean } {
    let node: Node | null = this.contents;
    let pair: Pair<Node, Node | null> | undefined;
    for (const step of path) {
      if (isMap(node)) {
        const items = node.items as Pair<Node, Node | null>[];
        const next = items.find((item) => isScalar(item.key) && String(item.key.value) === String(step));
        if (next === undefined) return { ...(pair && { pair }), node, missing: true };
        pair = next;
        node = next.value;
      } else if (isCollection(node) && node.items[Number(step)] !== undefined) {
        node = node.items[Number(step)] as Node;
        pair = undefined;
      } else return { ...(pair && { pair }), node, missing: true };
    }
    return { ...(pair && { pair }), node, missing: false };
  }

  has(path: Path): boolean {
    return !this.walk(path).missing;
  }

  place(path: Path, which: 'key' | 'value' = 'value'): Place {
    const { pair, node, missing } = this.walk(path);
    if (missing && isMap(node) && node.items.length > 0) {
      const key = (node.items[0] as Pair<Node>).key;
      return this.placeOf(key);
    }
    if (pair && (which === 'key' || isLong(node))) return this.placeOf(pair.key);
    return this.placeOf(node ?? pair?.key ?? null);
  }

  private placeOf(node: Node | null): Place {
    const range = node?.range;
    return range ? this.placeAt(range[0], range[1]) : this.placeAt(0, 1);
  }

  placeWithin(path: Path, start: number, end: number): Place {
    const { node, missing } = this.walk(path);
    const range = node?.range;
    if (!missing && isScalar(node) && range && typeof node.value === 'string') {
      const inner = range[0] + (node.type === 'QUOTE_SINGLE' || node.type === 'QUOTE_DOUBLE' ? 1 : 0);
      // Holds for text on one line without escapes; whatever was folded or escaped does not match.
      if (this.text.slice(inner, inner + end) === node.value.slice(0, end))
        return this.placeAt(inner + start, inner + Math.max(end, start + 1));
    }
    return this.place(path);
  }
}

/** Values that take more than their line are pointed at by their key. */
function isLong(node: Node | null): boolean {
  if (node === null) return true;
  if (isScalar(node)) return node.type === 'BLOCK_FOLDED' || node.type === 'BLOCK_LITERAL';
  return isCollection(node) && node.flow !== true;
}

function wordYamlError(code: string, said: string): [message: string, help: string] {
  switch (code) {
    case 'TAB_AS_INDENT':
      return ['found a tab at the beginning of a line', 'Indent with spaces.'];
    case 'BAD_INDENT':
    case 'BLOCK_IN_FLOW':
      return ['cannot tell what this line belongs to', 'Keys of one mapping begin in the same column.'];
    case 'DUPLICATE_KEY':
      return ['the key is there twice', 'Keep one of the two.'];
    case 'BAD_SCALAR_START':
    case 'BAD_DQ_ESCAPE':
      return [
        'the text begins with, or escapes, a sign that means something else',
        'Put the text in quotes.',
      ];
    case 'MULTILINE_IMPLICIT_KEY':
    case 'BLOCK_AS_IMPLICIT_KEY':
    case 'KEY_OVER_1024_CHARS':
      return [
        'cannot find the key and the colon of this line',
        'Write `key: value`; put text with a colon in it in quotes.',
      ];
    case 'MULTIPLE_DOCS':
      return ['a second document begins here', 'One file holds one entry; take the `---` out.'];
    case 'NON_STRING_KEY':
      return ['the key is not a word', 'Keys are words in small letters.'];
    case 'MISSING_CHAR':
      return [missingChar(said), 'Close it, or put text that holds such a sign in quotes.'];
    case 'RESOURCE_EXHAUSTION':
      return ['it is nested too deep', 'No entry needs that; is a bracket left open?'];
    default:
      return [
        'cannot read this as YAML',
        'Look for a colon, a bracket or a quote that is missing or one too many.',
      ];
  }
}

function missingChar(said: string): string {
  if (said.includes('quote')) return 'a quote is opened and never closed';
  if (/[\]}]|flow/i.test(said)) return 'a bracket is opened and never closed, or a comma is missing';
  return 'something is missing here';
}
