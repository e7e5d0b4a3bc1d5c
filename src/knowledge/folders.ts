import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, isAbsolute, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { SourceFolder } from './read.ts';

export interface FolderOptions {
  /** Folders of local findings, from the command line. */
  readonly local?: readonly string[];
  readonly data?: string;
  readonly cache?: string;
}

/** Where everything lives. A flag leads, then the environment, then the user's own folders. */
export interface Places {
  readonly shipped: string;
  readonly local: readonly SourceFolder[];
  /** Open cases and local findings. */
  readonly data: string;
  /** The knowledge snapshot; may be thrown away at any time. */
  readonly cache: string;
}

type Environment = Readonly<Record<string, string | undefined>>;

/** The knowledge beside the program, the same from the sources and from the compiled files. */
export const shippedFolder = fileURLToPath(new URL('../../knowledge', import.meta.url));

export function findPlaces(options: FolderOptions = {}, env: Environment = process.env): Places {
  const data = options.data ?? (env['CULPRINT_DATA'] || userFolder('data', env));
  const cache = options.cache ?? (env['CULPRINT_CACHE'] || userFolder('cache', env));
  return { shipped: shippedFolder, local: localFolders(options.local ?? [], data, env), data, cache };
}

function localFolders(flags: readonly string[], data: string, env: Environment): SourceFolder[] {
  const fromEnv = (env['CULPRINT_LOCAL'] ?? '').split(delimiter).filter((folder) => folder !== '');
  const named = flags.length > 0 ? [...flags] : fromEnv;
  if (named.length > 0) return named.map((folder) => ({ folder, name: folder }));
  const own = join(data, 'knowledge');
  return existsSync(own) ? [{ folder: own, name: own }] : [];
}

/**
 * The user's folder by the XDG base directory specification 0.8, in which a relative value is to be ignored, and by
 * habit elsewhere. Ten lines here instead of a package that costs 12 ms at every start.
 */
function userFolder(kind: 'data' | 'cache', env: Environment): string {
  const home = homedir();
  if (process.platform === 'win32') {
    const base = env['LOCALAPPDATA'] || join(home, 'AppData', 'Local');
    return join(base, 'culprint', kind === 'data' ? 'Data' : 'Cache');
  }
  if (process.platform === 'darwin') {
    return join(home, 'Library', kind === 'data' ? 'Application Support' : 'Caches', 'culprint');
  }
  const xdg = env[kind === 'data' ? 'XDG_DATA_HOME' : 'XDG_CACHE_HOME'] ?? '';
  const fallback = join(home, kind === 'data' ? '.local/share' : '.cache');
  return join(isAbsolute(xdg) ? xdg : fallback, 'culprint');
}
