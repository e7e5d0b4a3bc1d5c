import { existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Makes a folder and those above it, for the owner alone; throws where that is not possible. Step by step, because node's
 * own way of making several at once never comes back where the system takes no new folders at all, as under /proc.
 */
export function ensureFolder(folder: string): void {
  if (existsSync(folder)) return;
  const above = dirname(folder);
  if (above !== folder) ensureFolder(above);
  mkdirSync(folder, { mode: 0o700 });
}
