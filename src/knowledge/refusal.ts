/**
 * Why an expression is refused, with its place in the text. Thrown between the parts of the compiler only, because a
 * slip can show at any depth; `compileExpression` turns it into data.
 */
export class Refusal extends Error {
  readonly start: number;
  readonly end: number;
  readonly help: string | undefined;

  constructor(place: { readonly start: number; readonly end: number }, message: string, help?: string) {
    super(message);
    this.start = place.start;
    this.end = place.end;
    this.help = help;
  }
}

/** A text of the author's, short and on one line, fit to be quoted in a message. */
export function quote(text: string): string {
  const line = [...text.replace(/[\s\p{C}]+/gu, ' ').trim()];
  return `"${line.length > 60 ? `${line.slice(0, 57).join('')}...` : line.join('')}"`;
}

/** "; did you mean ...?" where something is near, else nothing. */
export function didYouMean(near: string | undefined): string {
  return near === undefined ? '' : `; did you mean "${near}"?`;
}
