import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import * as z from 'zod';
import { type Kind, schemas } from './schemas.ts';

/** JSON Schemas by kind of entry, for editors that complete and check while one types. */
export function editorSchemas(): Record<Kind, object> {
  const made = Object.entries(schemas).map(([kind, schema]) => [
    kind,
    // What may be written, not what comes out; the draft that editors know best.
    z.toJSONSchema(schema, { io: 'input', target: 'draft-7' }),
  ]);
  return Object.fromEntries(made);
}

/** As it stands in a file. */
export function schemaText(schema: object): string {
  return `${JSON.stringify(schema, null, 2)}\n`;
}

/** Writes `schema/<kind>.json` into a knowledge folder; returns how many. */
export function writeEditorSchemas(folder: string): number {
  const made = Object.entries(editorSchemas());
  mkdirSync(join(folder, 'schema'), { recursive: true });
  for (const [kind, schema] of made)
    writeFileSync(join(folder, 'schema', `${kind}.json`), schemaText(schema));
  return made.length;
}
