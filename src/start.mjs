// What `npm start` runs: a clone that was only just made installs and compiles itself first.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { prepare, root } from './prepare.mjs';

prepare();
await import(pathToFileURL(join(root, 'dist', 'cli', 'main.js')).href);
